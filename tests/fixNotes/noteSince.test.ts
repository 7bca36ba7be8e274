import sharp from 'sharp';
import { describe, expect, it } from 'vitest';
import { customerNote, type NoteWish } from '../../src/fixNotes/customerNote.ts';
import { noteHtml } from '../../src/fixNotes/noteHtml.ts';
import { noteMarkdown } from '../../src/fixNotes/noteMarkdown.ts';
import { notePictures } from '../../src/fixNotes/notePicture.ts';
import type { NoteSince } from '../../src/fixNotes/noteSince.ts';
import { noteText } from '../../src/fixNotes/noteText.ts';
import { noteLanguages } from '../../src/fixNotes/words/wordsIn.ts';
import type { ReportJson } from '../../src/report/reportJson.ts';
import { answeredFindings } from '../../src/revisions/answeredFindings.ts';
import type { ArtChange } from '../../src/revisions/artChange.ts';
import { checkOf, findingOf, reportOf } from '../support/noteReports.ts';

const wish: NoteWish = {
  ...{ language: 'en', units: 'mm', customer: null, shop: null, answerBy: null, phrases: {}, weFix: [] },
};
const line = (inkNames: string[], more = {}) =>
  findingOf('x', { code: 'breaks-up', worse: 'less', inkNames, placesTotal: 1, ...more });
const thin = (...findings: ReturnType<typeof line>[]) =>
  checkOf('thin-line', findings.length > 0 ? 'fail' : 'pass', findings);
const dot = checkOf('small-dot', 'fail', [line(['Night'], { code: 'washes-out' })]);
const box = (xMm: number, yMm: number, widthMm: number, heightMm: number) => ({ xMm, yMm, widthMm, heightMm });
const moved: ArtChange = {
  ...{ kind: 'moved', inkNames: ['Lagoon'], areaMm2: 40, movedMm: { x: 1.02, y: 0.03 } },
  ...{ box: box(151, 200, 12, 9), wasBox: box(150, 200, 12, 9) },
};
const thickened: ArtChange = {
  ...{ kind: 'thickened', inkNames: ['Coral'], areaMm2: 2, byMm: 0.2, box: box(101, 43.8, 3.2, 0.6) },
};
const since = (before: ReportJson, after: ReportJson, changes: ArtChange[] = []): NoteSince => ({
  ...{ report: before, findings: answeredFindings(before, after, changes), changes },
});
const said = (before: ReportJson, after: ReportJson, changes: ArtChange[] = [], more: Partial<NoteWish> = {}) =>
  noteText(customerNote(after, { ...wish, ...more }, since(before, after, changes))).replace(/\s+/g, ' ');

describe('the note on a revision', () => {
  it('thanks for what is put right and asks only for the rest', () => {
    const before = reportOf('fail', [thin(line(['Coral']), line(['Lagoon'], { placesTotal: 7 }))]);
    const after = reportOf('fail', [thin(line(['Lagoon'], { placesTotal: 3 })), dot]);
    const text = said(before, after);
    expect(text).toContain('Settled, thank you - The lines in Coral are wide enough now. Please change');
    expect(text).toContain('This is better than before: 7 places were found, now 3 are left.');
    expect(text).toMatch(/A dot in Night is 0\.21 mm across\. This is new in this file\./);
    expect(text).not.toContain('We also see');
    expect(text).not.toMatch(/line in Coral/);
  });

  it('says that nothing is needed when all is put right, and thanks', () => {
    const text = said(reportOf('fail', [thin(line(['Coral']))]), reportOf('pass', [thin()]));
    expect(text).toContain('The lines in Coral are wide enough now.');
    expect(text).toContain('It is ready: we can make the films. Nothing is needed from you.');
  });

  it('claims nothing to be put right that could not be looked at again', () => {
    const before = reportOf('fail', [thin(line(['Coral']))]);
    for (const outcome of ['couldNotRun', 'needsReview'] as const)
      expect(said(before, reportOf('needsReview', [checkOf('thin-line', outcome, [], 'no plate')]))).not.toContain(
        'Settled',
      );
  });

  it('takes a line that is now at the limit for the line that was too thin', () => {
    const before = reportOf('fail', [thin(line(['Coral']))]);
    const text = said(before, reportOf('needsReview', [thin(line(['Coral'], { code: 'close-to-limit' }))]));
    expect(text).toContain('This is as it was before.');
    expect(text).not.toContain('Settled');
  });

  it('asks about changes that nobody asked for, and not about those that were', () => {
    const before = reportOf('fail', [thin(line(['Coral'])), checkOf('missing-registration-mark', 'fail', [line([])])]);
    const text = said(before, reportOf('pass', [thin()]), [moved, thickened]);
    expect(text).toContain('We also see 1. Part of Lagoon moved 1.0 mm to the right.');
    expect(text).toContain('The place is 157.0 mm from the left and 204.5 mm from the top of tee.pdf, page 1.');
    expect(text).toContain('Is that meant? Or may we put it back as it was?');
    expect(text).not.toContain('thicker');
    // A line of another ink, and one elsewhere, were not asked for.
    for (const other of [
      { ...thickened, inkNames: ['Night'] },
      { ...thickened, box: box(10, 10, 3, 1) },
    ])
      expect(said(before, reportOf('pass', [thin()]), [other])).toContain('are about 0.2 mm thicker');
  });

  it('takes an ink by another name for the same ink', () => {
    const before = reportOf('fail', [thin(line(['Coral']))]);
    const after = reportOf('fail', [thin(line(['Sunset']))]);
    const renamed: ArtChange = {
      ...{ kind: 'inkRenamed', inkNames: ['Sunset'], wasInkName: 'Coral', box: null, areaMm2: 9 },
    };
    const text = said(before, after, [renamed]);
    expect(text).toContain('A line in Sunset is 0.21 mm wide. This is as it was before.');
    expect(text).toContain('The ink Coral is now called Sunset.');
  });

  it.each(noteLanguages)('says every change in %s, in text, Markdown and HTML', (language) => {
    const at = { inkNames: ['Lagoon'], areaMm2: 4, box: box(10, 10, 4, 3) };
    const all: ArtChange[] = [
      moved,
      { ...at, kind: 'resized', wasBox: box(10, 10, 3, 2), factor: { x: 1.3, y: 1.5 } },
      { ...at, kind: 'recoloured', wasInkName: '#f2694e' },
      { ...at, kind: 'added', tonePercent: { now: 40, before: 0 } },
      { ...at, kind: 'removed' },
      { ...at, kind: 'thinned', byMm: 0.3 },
      { ...at, kind: 'lighter', tonePercent: { now: 30, before: 100 } },
      { ...at, kind: 'darker', tonePercent: { now: 100, before: 30 } },
      { ...at, kind: 'redrawn' },
      { ...at, kind: 'inkAdded' },
      { ...at, kind: 'inkRemoved' },
      { ...at, kind: 'inkRenamed', wasInkName: 'Coral', box: null },
      { ...at, kind: 'inkRecoloured', wasInkName: 'Coral', box: null },
      { ...at, kind: 'allMoved', movedMm: { x: 0, y: -2 }, box: null },
    ];
    const report = reportOf('pass', [thin()]);
    for (const change of all) {
      const note = customerNote(report, { ...wish, language }, since(report, report, [change]));
      const item = note.sections[0].items[0];
      expect(item.defect).not.toMatch(/[{}]|undefined|none/);
      expect(item.defect).toMatch(/Lagoon|#|2[.,]0/);
      for (const text of [noteText(note).replace(/\s+/g, ' '), noteMarkdown(note), noteHtml(note, new Map(), () => '')])
        expect(text.replace(/\\/g, '').replace(/\u00a0/g, ' ')).toContain(item.defect.replace(/\u00a0/g, ' '));
    }
  });

  it('shows before and now beside each other, each framed', async () => {
    const film = { id: 'f1', file: 'tee.pdf', page: 1, widthMm: 300, heightMm: 352 };
    const report = reportOf('pass', [thin()], { films: [film] as unknown as ReportJson['films'] });
    const note = customerNote(report, wish, since(report, report, [moved]));
    const composite = async (x: number) =>
      sharp({ create: { width: 900, height: 1056, channels: 3, background: '#ffffff' } })
        .composite([
          {
            input: { create: { width: 36, height: 27, channels: 3, background: '#e4572e' } },
            left: x,
            top: 600,
          },
        ])
        .png()
        .toBuffer();
    const pictures = await notePictures(report, note, await composite(453), await composite(450));
    const picture = pictures.get(1)!;
    expect(picture.alt).toContain('before on the left, now on the right');
    const { data, info } = await sharp(picture.png).removeAlpha().raw().toBuffer({ resolveWithObject: true });
    // Red begins further right within the right half by 1 mm of the part that is shown.
    const firstRed = (from: number) => {
      for (let x = 0; x < 300; x++) {
        const at = (110 * info.width + from + x) * info.channels;
        if (data[at] > 180 && data[at + 1] < 120) return x;
      }
      return Number.NaN;
    };
    const widthMm = Number(/([\d.]+)\u00a0mm wide/.exec(picture.alt)![1]);
    const shiftMm = ((firstRed(308) - firstRed(0)) / 300) * widthMm;
    expect(Math.abs(shiftMm - 1)).toBeLessThan(0.35);
  });
});
