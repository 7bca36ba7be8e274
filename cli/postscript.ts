import { spawn } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

const interpreter = 'gs';
const timeLimitMs = 120_000;
const memoryLimitKb = 2_000_000;

/**
 * Turns PostScript into PDF with the interpreter on the PATH, in a process of its own, in its safe mode, with limits on
 * time and memory. Null when there is no interpreter; throws when it refuses the file.
 */
export async function convertPostscript(bytes: Uint8Array): Promise<{ pdf: Uint8Array; program: string } | null> {
  const name = await interpreterName();
  if (name === null) return null;
  const folder = await mkdtemp(join(tmpdir(), 'plateglass-'));
  try {
    const source = join(folder, 'in.ps');
    const target = join(folder, 'out.pdf');
    await writeFile(source, bytes);
    const options =
      '-dSAFER -dBATCH -dNOPAUSE -dQUIET -dEPSCrop -dAutoRotatePages=/None -sDEVICE=pdfwrite -dCompatibilityLevel=1.7';
    await run('sh', [
      '-c',
      `ulimit -v ${memoryLimitKb}; exec ${interpreter} ${options} -sOutputFile="$1" "$2"`,
      'sh',
      target,
      source,
    ]);
    return { pdf: new Uint8Array(await readFile(target)), program: name };
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}

async function interpreterName(): Promise<string | null> {
  try {
    return `Ghostscript ${(await run(interpreter, ['--version'])).trim()}`;
  } catch {
    return null;
  }
}

function run(program: string, parameters: readonly string[]): Promise<string> {
  return new Promise((resolve, reject) => {
    const child = spawn(program, parameters, {
      stdio: ['ignore', 'pipe', 'pipe'],
      timeout: timeLimitMs,
      killSignal: 'SIGKILL',
    });
    let output = '';
    let trouble = '';
    child.stdout.on('data', (data) => (output += data));
    child.stderr.on('data', (data) => (trouble += data));
    child.on('error', reject);
    child.on('close', (code, signal) => {
      if (code === 0) resolve(output);
      else
        reject(
          new Error(
            signal === 'SIGKILL'
              ? 'it took too long'
              : trouble.trim().split('\n').at(-1) || `it ended with code ${code}`,
          ),
        );
    });
  });
}
