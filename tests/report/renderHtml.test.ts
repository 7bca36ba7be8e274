import { describe, expect, it } from 'vitest';
import { paintReport } from '../../src/report/paintedReport.ts';
import { renderHtml } from '../../src/report/renderHtml.ts';
import { shownText } from '../../src/report/words.ts';
import { tagsOf, textOf } from '../support/htmlTags.ts';
import { type FixtureOptions, hostileName, inspectionFixture } from '../support/inspectionFixture.ts';

const every: FixtureOptions[] = [
  {},
  { variant: 'ready' },
  { variant: 'lookFirst' },
  { variant: 'notRun' },
  { inks: 12 },
  { hostile: true },
];
const pageOf = (options: FixtureOptions) =>
  paintReport(inspectionFixture(options)).then((painted) => renderHtml(painted));

describe('the report as a page', () => {
  it.each(every)('is well formed and finds its way about: %o', async (options) => {
    const tags = tagsOf(await pageOf(options));
    const ids = tags.map((tag) => tag.attributes.id).filter((id) => id !== undefined);
    expect(new Set(ids).size).toBe(ids.length);
    for (const { name, attributes } of tags) {
      if (name === 'a') expect(ids, attributes.href).toContain(attributes.href.slice(1));
      if (attributes['aria-labelledby']) expect(ids).toContain(attributes['aria-labelledby']);
      if (name === 'img') expect(attributes.alt).toBeTruthy();
      if (name === 'svg') expect(attributes['aria-label']).toBeTruthy();
      if (name === 'th') expect(attributes.scope).toMatch(/^(row|col)$/);
    }
    const levels = tags.filter(({ name }) => /^h[1-6]$/.test(name)).map(({ name }) => Number(name[1]));
    levels.forEach((level, index) => {
      expect(level, `heading ${index + 1}`).toBeLessThanOrEqual((levels[index - 1] ?? 0) + 1);
    });
    for (const name of ['h1', 'main', 'header', 'footer', 'title']) {
      expect(
        tags.filter((tag) => tag.name === name),
        name,
      ).toHaveLength(1);
    }
  });

  it.each(every)('loads nothing from anywhere and runs nothing: %o', async (options) => {
    const page = await pageOf(options);
    const tags = tagsOf(page);
    expect(tags.some((tag) => ['script', 'link', 'iframe', 'object', 'embed', 'form', 'base'].includes(tag.name))).toBe(
      false,
    );
    for (const { attributes } of tags) {
      for (const [key, value] of Object.entries(attributes)) {
        expect(key.toLowerCase().startsWith('on')).toBe(false);
        if (['src', 'href', 'xlink:href'].includes(key)) expect(value).toMatch(/^(#|data:image\/png;base64,)/);
      }
    }
    const style = /<style>([\s\S]*?)<\/style>/.exec(page)![1];
    expect(
      [...style.matchAll(/url\((.{20})/g)].every(([, start]) =>
        start.startsWith('data:font/woff2;base64'.slice(0, 20)),
      ),
    ).toBe(true);
    expect(style.includes('@import')).toBe(false);
    expect(/https?:/.test(page.replace(/<style>[\s\S]*?<\/style>/, ''))).toBe(false);
  });

  it('says the verdict first, then the parts in their order', async () => {
    const text = textOf(await pageOf({})).replace(/\s+/g, ' ');
    const order = [
      'Not ready',
      'Midsummer tee',
      'On the shirt',
      'What stops filming',
      'Look first',
      'Measured and fine',
    ];
    const rest = ['Not checked, and why', 'For the press', 'Provenance', 'Plateglass 0.1.0'];
    const body = text.slice(text.indexOf('On the shirt') - 1);
    expect(text.replace('Not ready: Midsummer tee', '').trim().startsWith('Not ready Midsummer tee')).toBe(true);
    let at = -1;
    for (const words of [...order.slice(2), ...rest]) {
      const found = body.indexOf(words, at + 1);
      expect(found, words).toBeGreaterThan(at);
      at = found;
    }
  });

  it('shows every finding with its reading, limit, origin and advice', async () => {
    const inspection = inspectionFixture();
    const text = textOf(renderHtml(await paintReport(inspection)));
    for (const check of inspection.report.checks) {
      expect(text).toContain(check.title);
      if (check.why) expect(text).toContain(check.why);
      for (const finding of check.findings) {
        expect(text).toContain(finding.advice.printer);
        expect(text).toContain(finding.advice.customer);
      }
    }
    expect(text).toContain('0.21 ± 0.02 mm, needs 0.31 mm (mesh 43/cm (109/in), 80 µm thread)');
    expect(text).toContain('7 inks, allows 6 (your ticket, heads of the press)');
    expect(text).toContain('14 more places');
    expect(text).toContain(inspection.report.films[0].sha256);
    for (const item of inspection.report.notLookedAt) expect(text).toContain(item.why);
    for (const caution of inspection.report.plan.cautions) expect(text).toContain(caution);
  });

  it('shows up to three crops a finding and the map of its places', async () => {
    const page = await pageOf({});
    const article = /<article class="finding" id="thin-line-1"[\s\S]*?<\/article>/.exec(page)![0];
    expect(article.match(/<figure>/g)).toHaveLength(3);
    expect(article.match(/<figure class="map">/g)).toHaveLength(1);
    expect(textOf(article)).toContain('Place 1, 15×, at 257.8, 149.9 mm, threads of 43/cm');
  });

  it('shows text from files as text', async () => {
    const page = await pageOf({ hostile: true });
    for (const dangerous of ['<script', '<b>', '\u202e', '\u0007'])
      expect(page.includes(dangerous), dangerous).toBe(false);
    expect(textOf(page).includes(`Coral ${shownText(hostileName)}`)).toBe(true);
  });

  it('puts nothing but a plain colour into a style', async () => {
    const inspection = inspectionFixture();
    const evil = 'red;background:url(//x)"><script>';
    const report = {
      ...inspection.report,
      ticket: { ...inspection.report.ticket, garmentHex: evil },
      inks: inspection.report.inks.map((ink) => ({ ...ink, displayHex: evil })),
    };
    const page = renderHtml(await paintReport({ ...inspection, report }));
    expect(page.includes('url(//x)')).toBe(false);
    expect(() => tagsOf(page)).not.toThrow();
  });

  it('can be read in both themes: text stands out 4.5 to 1 and more (WCAG 2.2, 1.4.3)', async () => {
    const style = /<style>([\s\S]*?)<\/style>/.exec(await pageOf({}))![1];
    const themes = [...style.matchAll(/:root\{[^}]*--text:(#\w{6});--quiet:(#\w{6});--faint:#\w{6};--table:(#\w{6})/g)];
    expect(themes).toHaveLength(3);
    for (const [, text, quiet, table] of themes) {
      expect(contrast(text, table)).toBeGreaterThan(7);
      expect(contrast(quiet, table)).toBeGreaterThan(4.5);
    }
  });

  it('says openly when nothing stops filming and when a check could not be run', async () => {
    const ready = textOf(await pageOf({ variant: 'ready' }));
    expect(ready).not.toContain('What stops filming');
    expect(ready).toContain('Ready to film');
    const notRun = textOf(await pageOf({ variant: 'notRun' }));
    expect(notRun).toContain('Could not be run');
    expect(notRun).toContain('ran out of memory');
  });

  it('is the same bytes for the same inspection', async () => {
    const inspection = inspectionFixture();
    const [first, second] = [renderHtml(await paintReport(inspection)), renderHtml(await paintReport(inspection))];
    expect(first === second).toBe(true);
  });
});

/** Contrast ratio of two colours by WCAG 2.2: relative luminances, each with 0.05 of flare. */
function contrast(a: string, b: string): number {
  const luminance = (hex: string) => {
    const [red, green, blue] = [1, 3, 5].map((at) => {
      const share = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    });
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  };
  const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (high + 0.05) / (low + 0.05);
}
