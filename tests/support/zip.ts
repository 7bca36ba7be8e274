import { crc32, deflateRawSync } from 'node:zlib';

export interface Packed {
  /** As it is to stand in the archive, whatever it is. */
  readonly name: string;
  readonly bytes: Uint8Array;
  /** What the list at the end says of its size, where that is to be a lie. */
  readonly statedBytes?: number;
  /** General purpose bits besides that of UTF-8 names. */
  readonly flags?: number;
  /** File type and permissions as Unix has them. */
  readonly mode?: number;
}

/** An archive made byte by byte (APPNOTE 6.3, sections 4.3.7, 4.3.12 and 4.3.16), so that it can be wrong on purpose. */
export function zipOf(files: readonly Packed[]): Buffer {
  const parts: Buffer[] = [];
  const list: Buffer[] = [];
  let offset = 0;
  for (const { name, bytes, statedBytes, flags, mode } of files) {
    const packed = deflateRawSync(bytes);
    const nameBytes = Buffer.from(name);
    const common = Buffer.alloc(26);
    common.writeUInt16LE(20, 0);
    common.writeUInt16LE(0x800 | (flags ?? 0), 2);
    common.writeUInt16LE(8, 4);
    common.writeUInt32LE(crc32(bytes), 10);
    common.writeUInt32LE(packed.length, 14);
    common.writeUInt32LE(statedBytes ?? bytes.length, 18);
    common.writeUInt16LE(nameBytes.length, 22);
    const tail = Buffer.alloc(14);
    tail.writeUInt32LE(((mode ?? 0o100644) << 16) >>> 0, 6);
    tail.writeUInt32LE(offset, 10);
    const local = Buffer.concat([Buffer.from('PK\x03\x04', 'latin1'), common, nameBytes, packed]);
    list.push(Buffer.concat([Buffer.from('PK\x01\x02\x14\x03', 'latin1'), common, tail, nameBytes]));
    parts.push(local);
    offset += local.length;
  }
  const directory = Buffer.concat(list);
  const end = Buffer.alloc(22);
  end.write('PK\x05\x06', 0, 'latin1');
  end.writeUInt16LE(files.length, 8);
  end.writeUInt16LE(files.length, 10);
  end.writeUInt32LE(directory.length, 12);
  end.writeUInt32LE(offset, 16);
  return Buffer.concat([...parts, directory, end]);
}
