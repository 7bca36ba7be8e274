import type { DrawPass } from '../artwork/drawing.ts';
import type { Strip } from './strip.ts';

/** Carries out a pass: strips from the top of the grid to its bottom, each row exactly once. */
export type Engine = (pass: DrawPass) => AsyncIterable<Strip>;
