import { deviceCmyk, deviceGray, deviceRgb } from './colourSpace.ts';
import { ContentName, type Operand } from './contentTokens.ts';
import type { ContentWalk } from './contentWalk.ts';
import { type Colour, initialColour } from './graphicsState.ts';

const deviceSpaces = { g: deviceGray, rg: deviceRgb, k: deviceCmyk } as const;

/** `g`, `rg`, `k` and their stroking twins. */
export function setDeviceColour(walk: ContentWalk, operator: string, args: readonly Operand[]): void {
  if (walk.uncoloured) return;
  const lower = operator.toLowerCase() as keyof typeof deviceSpaces;
  const space = deviceSpaces[lower];
  put(walk, operator !== lower, { ...initialColour(space), components: numbersOf(args) });
}

/** `cs` and `CS`. */
export function setColourSpace(walk: ContentWalk, stroking: boolean, name: string): void {
  if (walk.uncoloured) return;
  const space = walk.context.spaces.named(name, walk.resources);
  if (space) put(walk, stroking, initialColour(space));
  else walk.unknown(`the colour space "${name}"`);
}

/** `sc`, `scn` and their stroking twins. */
export function setColour(walk: ContentWalk, stroking: boolean, args: readonly Operand[]): void {
  if (walk.uncoloured) return;
  const { space } = stroking ? walk.state.stroke : walk.state.fill;
  const last = args[args.length - 1];
  const patternName = last instanceof ContentName ? last.value : null;
  put(walk, stroking, {
    space,
    components: numbersOf(args),
    patternName,
    resources: walk.resources,
    baseMatrix: walk.baseMatrix,
  });
}

function put(walk: ContentWalk, stroking: boolean, colour: Colour): void {
  if (stroking) walk.state.stroke = colour;
  else walk.state.fill = colour;
}

function numbersOf(args: readonly Operand[]): number[] {
  return args.filter((v): v is number => typeof v === 'number');
}
