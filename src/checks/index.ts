import { angleClash } from './angle-clash.ts';
import { buttJoint } from './butt-joint.ts';
import type { AnyCheck } from './check.ts';
import { coarseImage } from './coarse-image.ts';
import { coarseMeshForRuling } from './coarse-mesh-for-ruling.ts';
import { extraInk } from './extra-ink.ts';
import { heavyStack } from './heavy-stack.ts';
import { hiddenObject } from './hidden-object.ts';
import { inkMissingFromArt } from './ink-missing-from-art.ts';
import { inkNotOnTicket } from './ink-not-on-ticket.ts';
import { liveType } from './live-type.ts';
import { lostIsland } from './lost-island.ts';
import { marksDisagree } from './marks-disagree.ts';
import { meshMoire } from './mesh-moire.ts';
import { mirroredFilm } from './mirrored-film.ts';
import { misalignedFilm } from './misaligned-film.ts';
import { missingRegistrationMark } from './missing-registration-mark.ts';
import { nearDuplicateInk } from './near-duplicate-ink.ts';
import { openGap } from './open-gap.ts';
import { overprintHazard } from './overprint-hazard.ts';
import { oversizeArt } from './oversize-art.ts';
import { pinhole } from './pinhole.ts';
import { platenOverrun } from './platen-overrun.ts';
import { printOrder } from './print-order.ts';
import { reversedPolarity } from './reversed-polarity.ts';
import { scaledFilm } from './scaled-film.ts';
import { semiOpaquePositive } from './semi-opaque-positive.ts';
import { shortTrap } from './short-trap.ts';
import { smallDot } from './small-dot.ts';
import { smallType } from './small-type.ts';
import { softDot } from './soft-dot.ts';
import { thinGap } from './thin-gap.ts';
import { thinLine } from './thin-line.ts';
import { toneOutOfRange } from './tone-out-of-range.ts';
import { tooManyStations } from './too-many-stations.ts';
import { underbaseMissing } from './underbase-missing.ts';
import { underbasePeek } from './underbase-peek.ts';
import { unequalFilms } from './unequal-films.ts';
import { unknownScale } from './unknown-scale.ts';
import { unnamedInk } from './unnamed-ink.ts';
import { unusedInk } from './unused-ink.ts';
import { whiteOverprint } from './white-overprint.ts';
import { wideTrap } from './wide-trap.ts';

/** Every check, in the order they are run and shown. */
export const checks: readonly AnyCheck[] = [
  extraInk,
  nearDuplicateInk,
  unnamedInk,
  unusedInk,
  inkNotOnTicket,
  inkMissingFromArt,
  oversizeArt,
  unequalFilms,
  unknownScale,
  coarseImage,
  liveType,
  hiddenObject,
  reversedPolarity,
  mirroredFilm,
  overprintHazard,
  whiteOverprint,
  semiOpaquePositive,
  pinhole,
  thinLine,
  thinGap,
  smallDot,
  lostIsland,
  smallType,
  coarseMeshForRuling,
  toneOutOfRange,
  meshMoire,
  angleClash,
  softDot,
  missingRegistrationMark,
  marksDisagree,
  misalignedFilm,
  scaledFilm,
  shortTrap,
  openGap,
  buttJoint,
  underbasePeek,
  underbaseMissing,
  wideTrap,
  tooManyStations,
  platenOverrun,
  printOrder,
  heavyStack,
];
