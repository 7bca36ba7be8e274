import type { CustomerState } from '../shared/customer.ts';

const everyMs = 2_500;

/** Looks again and again until there is something else to be seen, then shows it. */
export function waitForChange(path: string, mark: string): void {
  setTimeout(async () => {
    const now = await fetch(`${path}/state`)
      .then((answer) => (answer.ok ? (answer.json() as Promise<CustomerState>) : null))
      .catch(() => null);
    if (now === null || now.mark === mark) waitForChange(path, mark);
    else location.reload();
  }, everyMs);
}
