import type { PlateMarks, Registration } from '../../src/measurements/marks.ts';
import type { Scene, SceneDesign } from './markScenes.ts';

export interface SceneScore {
  /** Marks that should be found. */
  readonly marks: number;
  readonly missed: number;
  /** Of those, where the place is said not to have been seen. */
  readonly blind: number;
  readonly falsely: number;
  readonly lost: number;
  readonly lostTold: number;
  /** Found further off than their own error bar. */
  readonly wrongBars: number;
  /** By axis, in pixels. */
  readonly offs: readonly { readonly design: SceneDesign; readonly offPx: number }[];
}

const sameMarkMm = 0.5;

export function scoreScene(scene: Scene, found: readonly PlateMarks[]): SceneScore {
  const score = { marks: 0, missed: 0, blind: 0, falsely: 0, lost: 0, lostTold: 0, wrongBars: 0 };
  const offs: { design: SceneDesign; offPx: number }[] = [];
  const pitchMm = 25.4 / scene.dpi;
  scene.films.forEach(({ plate, marks }, index) => {
    const own = found.find(({ plateId }) => plateId === plate.id) ?? found[index];
    const taken = new Set<number>();
    for (const mark of marks) {
      const near = (place: { xMm: number; yMm: number }, withinMm: number) =>
        Math.hypot(place.xMm - mark.xMm, place.yMm - mark.yMm) <= withinMm;
      const at = own.marks.findIndex((candidate) => near(candidate, sameMarkMm));
      if (mark.state === 'lost') {
        score.lost++;
        if (own.missing.some((place) => place.looked && near(place, 2))) score.lostTold++;
        continue;
      }
      score.marks++;
      if (at < 0) {
        score.missed++;
        if (own.missing.some((place) => !place.looked && near(place, 2))) score.blind++;
        continue;
      }
      taken.add(at);
      const { xMm, yMm, plusMinusMm } = own.marks[at];
      for (const off of [xMm - mark.xMm, yMm - mark.yMm]) {
        offs.push({ design: scene.design, offPx: off / pitchMm });
        if (Math.abs(off) > plusMinusMm) score.wrongBars++;
      }
    }
    score.falsely += own.marks.filter((_, at) => !taken.has(at)).length;
  });
  return { ...score, offs };
}

/** How far the fit of each film to the reference is off the transforms the films were drawn with. */
export function fitErrors(scene: Scene, register: Registration | null): { turnDeg: number; scalePpm: number }[] {
  if (register === null) return [];
  const film = (plateId: string) => scene.films.find(({ plate }) => plate.id === plateId)!;
  const first = film(register.referencePlateId).laid;
  return register.plates.flatMap(({ plateId, rotationDeg, scaleX, scaleY, marksUsed }) => {
    if (rotationDeg === null || scaleX === null || scaleY === null || marksUsed < 4) return [];
    const { laid } = film(plateId);
    // Film from drawing, after drawing from reference: R(turn) S R(-turn of the reference) with S the stretch between.
    const turn = (laid.turnDeg * Math.PI) / 180;
    const back = (first.turnDeg * Math.PI) / 180;
    const [sx, sy] = [laid.scaleX / first.scaleX, laid.scaleY / first.scaleY];
    const at = (x: number, y: number): [number, number] => {
      const u = sx * (x * Math.cos(back) - y * Math.sin(back));
      const v = sy * (x * Math.sin(back) + y * Math.cos(back));
      return [u * Math.cos(turn) + v * Math.sin(turn), v * Math.cos(turn) - u * Math.sin(turn)];
    };
    const [across, down] = [at(1, 0), at(0, 1)];
    const wanted = (-Math.atan2(across[1] - down[0], across[0] + down[1]) * 180) / Math.PI;
    return [
      {
        turnDeg: Math.abs(rotationDeg - wanted),
        scalePpm: 1e6 * Math.max(Math.abs(scaleX - Math.hypot(...across)), Math.abs(scaleY - Math.hypot(...down))),
      },
    ];
  });
}
