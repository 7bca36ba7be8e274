import { safeHex } from '../report/composite.ts';
import { closes, listedFact, opens, paragraph, stack } from '../report/pdf/blocks.ts';
import { type Block, contentWidth, gap, marginX, pageHeight } from '../report/pdf/flow.ts';
import { openDocument } from '../report/pdf/openDocument.ts';
import { body, claim, section, small } from '../report/pdf/styles.ts';
import { Typesetter } from '../report/pdf/typeset.ts';
import { proofArt } from './proofArt.ts';
import type { ProofFacts, ProofWish } from './proofFacts.ts';
import { wordsIn } from './words/wordsIn.ts';

const top = 44;
const bottom = pageHeight - 40;
const leastArtHeight = 120;
const signHeight = 92;

/** A proof on one page of A4: the art on the colour of the garment, what it is printed with, and a place to sign. */
export async function renderProof(
  proof: ProofFacts,
  wish: ProofWish,
  version: string,
  compositePng: Uint8Array,
): Promise<Uint8Array> {
  const words = wordsIn(wish.language);
  const { doc, finished } = openDocument(proof.title, wish.language, version);
  const type = new Typesetter(doc);
  const head = stack([
    paragraph(type, [{ text: proof.title, strong: true }], section, contentWidth, 'H1'),
    ...(proof.shop === '' ? [] : [paragraph(type, [{ text: proof.shop, tone: 'quiet' as const }], body)]),
    gap(8),
  ]);
  const below = stack([gap(10), factList(type, proof), gap(6), ...listBlocks(type, proof), gap(4)]);
  const room = bottom - top - head.height - below.height - signHeight;
  const art = proofArt(type, proof, wish, compositePng, Math.max(leastArtHeight, room));
  let y = top;
  for (const block of [head, art, below]) {
    block.draw(marginX, y);
    y += block.height;
  }
  signBlock(type, words.proof).draw(marginX, bottom - signHeight);
  type.structure.finish();
  doc.end();
  return finished;
}

function factList(type: Typesetter, { facts, inks }: ProofFacts): Block {
  const widths = { term: 150, all: contentWidth };
  return stack([
    opens(type, 'L'),
    ...facts.map(({ term, value, swatchHex }) =>
      listedFact(
        type,
        [{ text: term, tone: 'quiet' }],
        [{ text: value, swatchHex: swatchHex === undefined ? undefined : safeHex(swatchHex) }],
        body,
        widths,
      ),
    ),
    closes(type),
    gap(3),
    paragraph(
      type,
      inks.map(({ name, hex }, index) => ({ text: `${index + 1}. ${name}   `, swatchHex: safeHex(hex) })),
      body,
    ),
  ]);
}

function listBlocks(type: Typesetter, { lists }: ProofFacts): Block[] {
  return lists.flatMap(({ heading, lines }) => [
    paragraph(type, [{ text: heading, strong: true }], body, contentWidth, 'H2'),
    ...lines.map((line) => paragraph(type, [{ text: `– ${line}` }], small)),
    gap(4),
  ]);
}

/** Two boxes to tick, and lines for name, date and signature. */
function signBlock(type: Typesetter, say: ReturnType<typeof wordsIn>['proof']): Block {
  const box = (key: 'approve' | 'changes'): Block => {
    const label = paragraph(type, [{ text: say(key), strong: key === 'approve' }], claim, contentWidth - 22);
    return {
      height: label.height + 5,
      draw: (x, y) => {
        type.structure.decoration(() =>
          type.doc
            .lineWidth(0.8)
            .rect(x, y + 2, 11, 11)
            .stroke('#14161a'),
        );
        label.draw(x + 18, y);
      },
    };
  };
  const third = contentWidth / 3;
  const line = (label: string, at: number): Block => ({
    height: 40,
    draw: (x, y) => {
      type.structure.decoration(() => {
        type.doc
          .lineWidth(0.6)
          .moveTo(x + at, y + 26)
          .lineTo(x + at + third - 14, y + 26)
          .stroke('#14161a');
      });
      paragraph(type, [{ text: label, tone: 'quiet' }], small, third).draw(x + at, y + 29);
    },
  });
  const lines = [say('name'), say('date'), say('signature')].map((label, index) => line(label, index * third));
  return stack([
    box('approve'),
    box('changes'),
    gap(6),
    {
      height: 40,
      draw: (x, y) => {
        for (const one of lines) one.draw(x, y);
      },
    },
  ]);
}
