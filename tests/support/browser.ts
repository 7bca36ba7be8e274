import { type Browser, chromium, type Page } from 'playwright-core';

const quiet = [
  '--no-sandbox',
  '--disable-gpu',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--disable-quic',
];

/** Chromium as installed, without anything it would ask of a network by itself. */
export function launchBrowser(): Promise<Browser> {
  return chromium.launch({ executablePath: '/usr/bin/chromium', args: quiet });
}

/** Everything a page complains about, and every address it asks for. */
export function watched(page: Page): { readonly troubles: string[]; readonly asked: string[] } {
  const troubles: string[] = [];
  const asked: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') troubles.push(`${message.text()} ${message.location().url}`);
  });
  page.on('pageerror', (error) => troubles.push(error.message));
  page.on('request', (request) => asked.push(request.url()));
  return { troubles, asked };
}
