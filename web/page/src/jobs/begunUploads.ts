import { forget, remember, remembered } from '../settings.ts';

/** Uploads this browser has begun, so that the same file chosen again goes on where it stopped, also in a new page. */
function keyOf(name: string, file: File): string {
  return `upload.${name}.${file.size}.${file.lastModified}`;
}

export function begunUpload(name: string, file: File): string | null {
  return remembered(keyOf(name, file));
}

export function rememberUpload(name: string, file: File, id: string): void {
  remember(keyOf(name, file), id);
}

/** Once the file belongs to a job. */
export function forgetUpload(name: string, file: File): void {
  forget(keyOf(name, file));
}
