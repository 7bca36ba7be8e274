import { z } from 'zod';
import { hexOfColourWord } from '../colour/colourWords.ts';

/**
 * The schema of the job ticket and of the shop's file. Every value is optional; a key that is not here is a mistake.
 * The `error` of each value is what people read as "expected".
 */

function number(expected: string, low: number, high: number) {
  return z.number({ error: expected }).min(low, { error: expected }).max(high, { error: expected }).describe(expected);
}

function wholeNumber(expected: string, low: number, high: number) {
  return z
    .number({ error: expected })
    .int({ error: expected })
    .min(low, { error: expected })
    .max(high, { error: expected })
    .describe(expected);
}

function text(expected: string) {
  return z
    .string({ error: expected })
    .trim()
    .min(1, { error: expected })
    .max(200, { error: expected })
    .describe(expected);
}

function oneOf<const T extends readonly [string, ...string[]]>(values: T) {
  const expected = `one of ${values.join(', ')}`;
  return z.enum(values, { error: expected }).describe(expected);
}

function section<T extends z.ZodRawShape>(shape: T) {
  return z.strictObject(shape, { error: `a group of keys: ${Object.keys(shape).join(', ')}` });
}

const lengthMm = (low: number, high: number) => number(`a length in mm, ${low} to ${high}`, low, high);

const colourExpected =
  'a colour in quotes such as "#1b2a41" (without quotes YAML takes # for a comment), or a plain colour word';
const colour = z
  .string({ error: colourExpected })
  .refine((value) => /^#(?:[0-9a-f]{3}|[0-9a-f]{6})$/iu.test(value.trim()) || hexOfColourWord(value) !== null, {
    error: colourExpected,
  })
  .describe(colourExpected);

const meshShape = {
  threadsPerCm: number('threads per cm, 4 to 250', 4, 250).optional(),
  threadsPerInch: number('threads per inch, 10 to 640', 10, 640).optional(),
  threadUm: number('a thread diameter in µm, 10 to 600', 10, 600).optional(),
  openingUm: number('a mesh opening in µm, 5 to 2000', 5, 2000).optional(),
  weave: oneOf(['plain', 'twill']).optional(),
  stretchPercent: number('how far the mesh may be stretched on its frame, in percent, 0 to 15', 0, 15).optional(),
  squarenessDeg: number('how far threads and film may be out of square, in degrees, 0 to 10', 0, 10).optional(),
};
const meshKeys = section(meshShape);
const mesh = z
  .union([text('the name of a mesh of the shop file'), meshKeys], {
    error: 'threadsPerCm (or threadsPerInch) with threadUm, or the name of a mesh of the shop file',
  })
  .describe('A mesh by its count and thread, or by its name in the shop file');

const percent = number('a share in percent, 0 to 100', 0, 100);

/** Limits a single ink's plate can have of its own. */
const plateLimitShape = {
  minLineMm: lengthMm(0, 20).optional(),
  minGapMm: lengthMm(0, 20).optional(),
  minDotMm: lengthMm(0, 20).optional(),
  minIslandMm: lengthMm(0, 20).optional(),
  trapMm: lengthMm(0, 10).optional(),
  chokeMm: lengthMm(0, 10).optional(),
  maxTrapMm: lengthMm(0, 50).optional(),
  minTypePt: number('a type size in points, 0 to 200', 0, 200).optional(),
  minMeshRatio: number('threads of the mesh to a line of the halftone, 0 to 20', 0, 20).optional(),
  lostTonePercent: percent.optional(),
  moirePercent: number('the swing of a beat in percent, 0 to 200', 0, 200).optional(),
};

const limitShape = {
  ...plateLimitShape,
  maxInks: wholeNumber('a whole number of inks, 1 to 24', 1, 24).optional(),
  minImagePpi: number('a resolution in pixels per inch, 1 to 4800', 1, 4800).optional(),
  sizeToleranceMm: lengthMm(0, 100).optional(),
  nearDuplicateDeltaE: number('a colour difference (CIEDE2000), 0 to 100', 0, 100).optional(),
  semiOpaquePercent: percent.optional(),
  heavyCoveragePercent: number('a coverage in percent, 0 to 1000', 0, 1000).optional(),
  platenMarginMm: lengthMm(0, 200).optional(),
  markCount: wholeNumber('a whole number of marks, 0 to 20', 0, 20).optional(),
  scalePercent: percent.optional(),
  minAngleDifferenceDeg: number('an angle in degrees, 0 to 45', 0, 45).optional(),
  softDotPercent: percent.optional(),
};

const pressShape = {
  heads: wholeNumber('a whole number of print heads, 1 to 24', 1, 24).optional(),
  registrationMm: lengthMm(0.01, 5).optional(),
  platenMm: z
    .tuple([lengthMm(20, 3000), lengthMm(20, 3000)], {
      error: 'width and height of the platen in mm, such as [400, 450]',
    })
    .describe('Width and height of the platen in mm')
    .optional(),
  flashStations: wholeNumber(
    'the print heads a flash takes: 0 when it stands beside them, 1, or 2 with a cool-down',
    0,
    2,
  ).optional(),
};

const frameKeys = section({
  ink: text('the name of an ink').optional(),
  file: text('the file name of a film').optional(),
  role: oneOf(['underbase', 'colour', 'key', 'highlight']).optional(),
  mesh: mesh.optional(),
  limits: section(plateLimitShape).optional(),
});

const placementSchema = section({
  belowCollarMm: lengthMm(0, 2000).optional(),
  aboveHemMm: lengthMm(0, 2000).optional(),
  fromCentreMm: lengthMm(0, 2000).optional(),
  fromSideSeamMm: lengthMm(0, 2000).optional(),
  side: oneOf(['left', 'right']).optional(),
  garmentWidthMm: lengthMm(20, 5000).optional(),
  garmentHeightMm: lengthMm(20, 5000).optional(),
})
  .refine(({ belowCollarMm, aboveHemMm }) => belowCollarMm === undefined || aboveHemMm === undefined, {
    error: 'belowCollarMm or aboveHemMm, not both',
  })
  .refine(({ fromCentreMm, fromSideSeamMm }) => fromCentreMm === undefined || fromSideSeamMm === undefined, {
    error: 'fromCentreMm or fromSideSeamMm, not both',
  })
  .refine(
    ({ fromCentreMm = 0, fromSideSeamMm, side }) =>
      side !== undefined || (fromCentreMm === 0 && fromSideSeamMm === undefined),
    { error: 'side: left or right, as one looks at the garment, with fromCentreMm and fromSideSeamMm' },
  );

const ticketShape = {
  job: text('the name of the job').optional(),
  customer: text('the name of the customer').optional(),
  garment: section({ colour: colour.optional(), fabric: text('a fabric, such as cotton').optional() }).optional(),
  print: section({
    widthMm: lengthMm(1, 5000).optional(),
    heightMm: lengthMm(1, 5000).optional(),
    quantity: wholeNumber('a whole number of pieces, 1 or more', 1, 10_000_000).optional(),
    location: text('a place on the garment, such as front').optional(),
    viewingDistanceMm: lengthMm(100, 100_000).optional(),
    /** Where the art lies on the garment, to its edges; left and right as one looks at it. */
    placement: placementSchema.optional(),
  }).optional(),
  press: section({ name: text('the name of a press of the shop file').optional(), ...pressShape }).optional(),
  film: section({
    dpi: number('a resolution in dots per inch, 50 to 10000', 50, 10_000).optional(),
    marks: oneOf(['inArt', 'addedAtOutput']).optional(),
  }).optional(),
  /** The mesh of every frame that names none. */
  mesh: mesh.optional(),
  limits: section(limitShape).optional(),
  screens: z
    .array(frameKeys, { error: 'a list of frames, each with ink, role and mesh' })
    .max(60, { error: 'at most 60 frames' })
    .optional(),
};

const named = (what: string) => text(`the name of a ${what}`);

export const ticketSchema = section(ticketShape);

const phraseExpected = 'a text of at most 2000 characters, or one for each language: en, es, de';
const phraseText = z.string({ error: phraseExpected }).max(2000, { error: phraseExpected });
const phrase = z.union([phraseText, z.record(z.string(), phraseText)], { error: phraseExpected }).optional();

/** How the shop writes to its customers, and through which server. */
const noteSchema = section({
  shop: text('the name of the shop, as customers know it').optional(),
  language: text('a language notes are written in: en, es or de').optional(),
  units: oneOf(['mm', 'inch']).optional(),
  answerDays: wholeNumber('days the customer has to answer, 1 to 90', 1, 90).optional(),
  weFix: z
    .array(text('the id of a check'), { error: 'a list of checks whose findings the shop settles itself' })
    .optional(),
  greeting: phrase,
  opening: phrase,
  price: phrase,
  turnAround: phrase,
  thanks: phrase,
  signature: phrase,
  mail: section({
    from: text('the address notes are sent from').optional(),
    replyTo: text('the address answers go to').optional(),
    host: text('the name of the mail server').optional(),
    port: wholeNumber('a port number, 1 to 65535', 1, 65535).optional(),
    security: oneOf(['tls', 'starttls']).optional(),
    user: text('the name to sign in with').optional(),
    passwordFile: text('the path of a file with the password in it, which only its owner may read').optional(),
    caFile: text('the path of a file with certificates to trust').optional(),
    testFolder: text('a folder that mails are laid into instead of being sent').optional(),
    mostMegabytes: number('megabytes one mail may have, 1 to 50', 1, 50).optional(),
  }).optional(),
}).optional();

export const shopSchema = section({
  ...ticketShape,
  meshes: z
    .array(section({ name: named('mesh'), ...meshShape }), {
      error: 'a list of meshes, each with name, threadsPerCm and threadUm',
    })
    .max(200, { error: 'at most 200 meshes' })
    .optional(),
  presses: z
    .array(section({ name: named('press'), ...pressShape }), { error: 'a list of presses, each with name and heads' })
    .max(50, { error: 'at most 50 presses' })
    .optional(),
  frames: z
    .array(section({ name: named('frame'), insideWidthMm: lengthMm(50, 5000), insideHeightMm: lengthMm(50, 5000) }), {
      error: 'a list of frames, each with name, insideWidthMm and insideHeightMm',
    })
    .max(100, { error: 'at most 100 frames' })
    .optional(),
  /** Who is told when a job that was dropped in the folder has been checked. */
  notify: section({
    command: text('a command line').optional(),
    webhook: section({
      url: z.url({ protocol: /^https?$/, error: 'an address that begins with https:// or http://' }),
      secretFile: text('the path of a file with the secret in it').optional(),
    }).optional(),
  }).optional(),
  note: noteSchema,
  /** The page on which a customer sees one job. */
  customerPage: section({
    address: z
      .url({
        protocol: /^https?$/,
        error: 'the address customers reach the page by, such as https://films.shop.example',
      })
      .optional(),
    validDays: wholeNumber('days a link is valid, 1 to 365', 1, 365).optional(),
  }).optional(),
});

export type TicketValues = z.infer<typeof ticketSchema>;
export type ShopValues = z.infer<typeof shopSchema>;
export type PlacementValues = z.infer<typeof placementSchema>;
export type MeshValues = z.infer<typeof meshKeys>;
export type PlateLimitKey = keyof typeof plateLimitShape;
export type JobLimitKey = Exclude<keyof typeof limitShape, PlateLimitKey>;
