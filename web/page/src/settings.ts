/** What this browser remembers of the person in front of it. */
export type Theme = 'system' | 'light' | 'dark';

const prefix = 'plateglass.';

export function remembered(name: string): string | null {
  try {
    return localStorage.getItem(prefix + name);
  } catch {
    return null;
  }
}

export function remember(name: string, value: string): void {
  try {
    localStorage.setItem(prefix + name, value);
  } catch {
    // A browser that keeps nothing: it is asked again next time.
  }
}

export function forget(name: string): void {
  try {
    localStorage.removeItem(prefix + name);
  } catch {
    // It keeps nothing anyway.
  }
}

/** Who sits here, as they said; empty before they did. */
export function nameHere(): string {
  return (remembered('name') ?? '').trim();
}

/** Light table or darkroom; the system's choice unless another was made here. */
export function showTheme(theme: Theme): void {
  if (theme === 'system') delete document.documentElement.dataset.theme;
  else document.documentElement.dataset.theme = theme;
}
