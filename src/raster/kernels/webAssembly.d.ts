/** The part of the WebAssembly JavaScript interface the kernels are loaded by; the library types have it only for browsers. */
declare namespace WebAssembly {
  class Memory {
    readonly buffer: ArrayBuffer;
    grow(pages: number): number;
  }
  class Module {
    constructor(bytes: Uint8Array);
  }
  class Instance {
    constructor(module: Module, imports?: object);
    readonly exports: object;
  }
  function validate(bytes: Uint8Array): boolean;
}
