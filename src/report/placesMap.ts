import { lightTable, palePrint } from './composite.ts';
import type { Entry } from './entry.ts';
import type { Inspection } from './inspection.ts';
import { type Picture, paintLayers } from './paintLayers.ts';
import { placeKindOf, spotOf } from './placeKinds.ts';
import { circle, rectangle, type Shape, twoTone } from './shapes.ts';

/** A small film with every place of a finding on it. */
export interface PlacesMap {
  readonly picture: Picture | null;
  readonly width: number;
  readonly height: number;
  readonly overlay: readonly Shape[];
  readonly caption: string;
  readonly label: string;
}

/** Longer side of a map, drawing units: 42 mm beside crops, 27 mm alone. */
const sideBesideCrops = 158;
const sideAlone = 102;
/** Enough for the sharpness of print at the larger size. */
const mapSidePx = 200;
/** Areas this large are outlined on the map, smaller ones and spots are dots; drawing units. */
const outlinedFrom = 10;

/**
 * The map of a finding's places on the film of its worst one; null when it has no places. Places shown enlarged carry
 * their number. `painted` keeps the pictures of films that were painted already, by their plates.
 */
export async function placesMapOf(
  inspection: Inspection,
  entry: Entry,
  shownPlaces: readonly number[],
  painted: Map<string, Promise<Picture>>,
): Promise<PlacesMap | null> {
  const { report, pictures } = inspection;
  const { finding } = entry;
  if (!finding || entry.isBrief || finding.places.length === 0) return null;
  const film = report.films.find((candidate) => candidate.id === finding.places[0].filmId);
  if (!film || !(film.widthMm > 0) || !(film.heightMm > 0)) return null;
  const side = shownPlaces.length > 0 ? sideBesideCrops : sideAlone;
  const scale = side / Math.max(film.widthMm, film.heightMm);
  const width = film.widthMm * scale;
  const height = film.heightMm * scale;
  const concerned = finding.plateIds.length > 0 ? finding.plateIds : report.plates.map((plate) => plate.id);
  const layers = concerned.flatMap((id) => {
    const image = pictures.plates.get(id);
    return image ? [{ image, colour: palePrint }] : [];
  });
  const overlay: Shape[] = [
    { kind: 'path', d: rectangle(0.5, 0.5, width - 1, height - 1), fill: 'none', stroke: '#5b6570', strokeWidth: 0.8 },
  ];
  const onFilm = finding.places
    .map((place, index) => ({ place, index }))
    .filter(({ place }) => place.filmId === film.id);
  const isShown = (index: number) => shownPlaces.includes(index);
  for (const { place, index } of onFilm) {
    const [placeWidth, placeHeight] = [place.widthMm * scale, place.heightMm * scale];
    if (placeKindOf(entry.check.id, finding) === 'area' && Math.max(placeWidth, placeHeight) >= outlinedFrom) {
      overlay.push(...twoTone(rectangle(place.xMm * scale, place.yMm * scale, placeWidth, placeHeight), 0.9));
    } else if (!isShown(index)) {
      const { xMm, yMm } = spotOf(place);
      overlay.push(...twoTone(circle(xMm * scale, yMm * scale, 1.7), 0.9));
    }
  }
  for (const { place, index } of onFilm) {
    if (!isShown(index)) continue;
    const { xMm, yMm } = spotOf(place);
    const [x, y] = [xMm * scale, yMm * scale];
    overlay.push({ kind: 'path', d: circle(x, y, 6), fill: '#101a24', stroke: '#ffffff', strokeWidth: 1 });
    const text = String(index + 1);
    overlay.push({ kind: 'text', x, y: y + 3.2, text, size: 9, anchor: 'middle', strong: true, tone: '#ffffff' });
  }
  const caption = mapCaption(finding.placesTotal, shownPlaces.length, onFilm.length);
  const key = concerned.join(' ');
  const paint = () => paintLayers({ layers, ground: lightTable, sidePx: mapSidePx, inks: 'opaque' });
  const picture = layers.length === 0 ? null : (painted.get(key) ?? paint());
  if (picture !== null) painted.set(key, picture);
  return {
    picture: await picture,
    width,
    height,
    overlay,
    caption,
    label: `Map of the film with ${onFilm.length} of ${finding.placesTotal} places marked`,
  };
}

function mapCaption(total: number, shown: number, onMap: number): string {
  const more = total - shown;
  const words =
    shown === 0
      ? placesWords(total)
      : more > 0
        ? `${more} more ${more === 1 ? 'place' : 'places'}`
        : total === 1
          ? 'Where it lies'
          : 'Where they lie';
  return onMap < total ? `${words}; the worst ${onMap} are marked` : words;
}

function placesWords(total: number): string {
  return total === 1 ? '1 place' : `${total} places`;
}
