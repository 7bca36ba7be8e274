import type { Check } from './check.ts';
import { judgeAtMost } from './judge.ts';
import { spotReading } from './narrowDetail.ts';
import { plateIn } from './subject.ts';
import { counted, mm, oneOrMany } from './words.ts';

/** Holes up to this many halves of a mesh opening can be dirt or a scratch; larger ones are taken for art. */
const speckHalves = 4;

export const pinhole: Check<'speck-that-holds' | 'close-to-limit'> = {
  id: 'pinhole',
  title: 'No pinholes in the blacks',
  failTitle: 'Some blacks have specks that may be pinholes',
  asks: 'Are the blacks of films delivered as pictures free of clear specks large enough to leave a hole in the print?',
  sources: [
    {
      kind: 'published',
      citation: 'An emulsion maker’s page on evaluating artwork: light through a clear speck hardens the stencil there',
    },
    { kind: 'commonPractice', statement: 'specks below half a mesh opening cannot hold in the mesh' },
  ],
  scope: 'plate',
  worse: 'more',
  limit: (ask, subject) => {
    const plate = plateIn(subject);
    const mesh = ask.ticket.screenFor(plate.ink.name).mesh;
    if (plate.film.nature === 'vector') {
      return { why: 'Vector art has no dirt or scratches; its small holes are judged as art.' };
    }
    if (mesh === null) return { why: 'No mesh is given, so it is not known which specks could hold.' };
    return {
      value: mesh.value.openingUm / 2000,
      unit: 'mm',
      from: 'mesh',
      rule: `half the opening of a mesh of ${mesh.value.threadsPerCm}/cm with ${mesh.value.threadUm} µm thread`,
      source: 'common practice, no source',
    };
  },
  *measure(_ask, subject) {
    const plate = plateIn(subject);
    for (const place of plate.detail.islands) yield spotReading(plate, place);
    if (plate.detail.islands.length === 0 && plate.verified) {
      yield { why: `${plate.ink.name} has no clear specks in its blacks.` };
    }
  },
  judge: (reading, limit) => {
    if (reading.value - reading.plusMinus > speckHalves * limit.value) {
      const rule = `holes over ${speckHalves / 2} mesh openings are taken for art`;
      const largest = { ...limit, value: speckHalves * limit.value, rule };
      return {
        outcome: 'pass',
        shown: { value: reading.value, plusMinus: reading.plusMinus, limit: largest, worse: 'less' },
      };
    }
    const judgement = judgeAtMost(reading, limit, { beyond: 'speck-that-holds', close: 'close-to-limit' });
    return judgement.outcome === 'fail' ? { ...judgement, outcome: 'needsReview' } : judgement;
  },
  advice: {
    'speck-that-holds': {
      customer: ({ reading, placesTotal }) =>
        `Your film for ${reading.inkNames[0]} has ${counted(placesTotal, 'clear speck')} in its solid, up to ${mm(reading.value)}. ${oneOrMany(placesTotal, 'Is it meant, or may we fill it?', 'Are they meant, or may we fill them?')}`,
      printer: ({ reading, placesTotal }) =>
        `Touch up ${counted(placesTotal, 'speck')} in ${reading.inkNames[0]} with opaque or output the film again; each can leave a spot without ink.`,
    },
    'close-to-limit': {
      customer: ({ reading }) =>
        `The solid of ${reading.inkNames[0]} has a clear speck of about ${mm(reading.value)}. Is it meant, or may we fill it?`,
      printer: ({ reading, limit }) =>
        `Look at the speck under the loupe: ${mm(reading.value)} ± ${mm(reading.plusMinus)} against ${mm(limit.value)}, the size that can hold.`,
    },
  },
};
