import { hexOfColourWord } from '../colour/colourWords.ts';
import { foldInkName } from '../colour/normaliseInkName.ts';
import { resolveJobLimits } from './jobLimits.ts';
import type { SetValue } from './plateLimits.ts';
import { addProblem, readValues } from './readValues.ts';
import { type NamedMesh, resolveMesh } from './resolveMesh.ts';
import { resolveScreens } from './resolveScreens.ts';
import { type ResolvedTicket, type Sourced, type TicketProblem, type ValueOrigin, WrongTicketError } from './ticket.ts';
import { showValue } from './ticketProblems.ts';
import { type JobLimitKey, type ShopValues, shopSchema, type TicketValues, ticketSchema } from './ticketSchema.ts';

/** A shirt is looked at from about a metre. Common practice, no source. */
const usualViewingDistanceMm = 1000;

export interface TicketText {
  readonly fileName: string;
  readonly text: string;
}

/**
 * The job's ticket over the shop's file over the defaults, each value with its origin. Both files are YAML or JSON.
 * Without either, every value is a default and no mesh is known.
 * Throws `WrongTicketError` with all problems of both files at once.
 */
export function resolveTicket(input: { readonly ticket?: TicketText; readonly shop?: TicketText }): ResolvedTicket {
  const ticketProblems: TicketProblem[] = [];
  const shopProblems: TicketProblem[] = [];
  const shop: ShopValues = (input.shop && readValues(input.shop.text, shopSchema, shopProblems)) ?? {};
  const ticket: TicketValues = (input.ticket && readValues(input.ticket.text, ticketSchema, ticketProblems)) ?? {};
  // A name can only be looked up in a shop file that is sound; else that file's own problems say enough.
  const shopIsSound = shopProblems.length === 0;

  const meshes: NamedMesh[] = [];
  for (const [index, { name, ...values }] of (shop.meshes ?? []).entries()) {
    const mesh = resolveMesh(values, `meshes[${index}]`, [], shopProblems);
    if (mesh) meshes.push({ name, mesh });
  }
  checkNames(shop.meshes, 'meshes', shopProblems);
  checkNames(shop.presses, 'presses', shopProblems);
  checkNames(shop.frames, 'frames', shopProblems);

  const press = resolvePress(ticket, shop, ticketProblems, shopProblems, shopIsSound);
  const screens = resolveScreens({
    ticket,
    shop,
    meshes: shopIsSound && shopProblems.length === 0 ? meshes : null,
    registrationMm: press.registrationMm,
    ticketProblems,
    shopProblems,
  });
  throwIfWrong(input, ticketProblems, shopProblems);

  const pick = <T>(fromTicket: T | undefined, fromShop: T | undefined): Sourced<T> | null =>
    fromTicket !== undefined
      ? { value: fromTicket, from: 'ticket' }
      : fromShop !== undefined
        ? { value: fromShop, from: 'shop' }
        : null;
  const garmentColour = pick(ticket.garment?.colour, shop.garment?.colour);
  return {
    job: pick(ticket.job, shop.job),
    customer: pick(ticket.customer, shop.customer),
    ticketFile: input.ticket?.fileName ?? null,
    shopFile: input.shop?.fileName ?? null,
    garment: {
      colourHex: garmentColour
        ? { ...garmentColour, value: toHex(garmentColour.value) }
        : { value: '#ffffff', from: 'default' },
      fabric: pick(ticket.garment?.fabric, shop.garment?.fabric) ?? { value: 'cotton', from: 'default' },
    },
    print: {
      widthMm: pick(ticket.print?.widthMm, shop.print?.widthMm),
      heightMm: pick(ticket.print?.heightMm, shop.print?.heightMm),
      quantity: pick(ticket.print?.quantity, shop.print?.quantity),
      location: pick(ticket.print?.location, shop.print?.location),
      placement: pick(ticket.print?.placement, shop.print?.placement),
      viewingDistanceMm: pick(ticket.print?.viewingDistanceMm, shop.print?.viewingDistanceMm) ?? {
        value: usualViewingDistanceMm,
        from: 'default',
      },
    },
    press,
    film: {
      dpi: pick(ticket.film?.dpi, shop.film?.dpi),
      marks: pick(ticket.film?.marks, shop.film?.marks) ?? { value: 'inArt', from: 'default' },
    },
    limits: resolveJobLimits(setJobLimits(ticket, shop), press.heads, press.registrationMm),
    frames: shop.frames ?? [],
    meshes,
    screens: screens.listed,
    screenFor: screens.screenFor,
  };
}

function resolvePress(
  ticket: TicketValues,
  shop: ShopValues,
  ticketProblems: TicketProblem[],
  shopProblems: TicketProblem[],
  shopIsSound: boolean,
): ResolvedTicket['press'] {
  const byName = (name: string | undefined, problems: TicketProblem[]) => {
    if (name === undefined || !shopIsSound) return undefined;
    const found = shop.presses?.find((candidate) => foldInkName(candidate.name) === foldInkName(name));
    if (found === undefined) {
      const names = (shop.presses ?? []).map((candidate) => candidate.name).join(', ');
      const expected =
        names === '' ? 'no name, because the shop file lists no presses' : `a press of the shop file: ${names}`;
      addProblem(problems, { path: 'press.name', expected, received: showValue(name) });
    }
    return found;
  };
  const chosen = byName(ticket.press?.name, ticketProblems);
  const usual = byName(shop.press?.name, shopProblems);
  const pick = <K extends 'heads' | 'registrationMm' | 'platenMm' | 'flashStations', T>(
    key: K,
    fallback: T,
  ): Sourced<T | number | [number, number]> => {
    const fromTicket = ticket.press?.[key];
    if (fromTicket !== undefined) return { value: fromTicket, from: 'ticket' };
    const fromShop = chosen?.[key] ?? shop.press?.[key] ?? usual?.[key];
    return fromShop !== undefined ? { value: fromShop, from: 'shop' } : { value: fallback, from: 'default' };
  };
  return {
    heads: pick('heads', 6) as Sourced<number>,
    registrationMm: pick('registrationMm', 0.25) as Sourced<number>,
    platenMm: pick('platenMm', [400, 450]) as Sourced<readonly [number, number]>,
    flashStations: pick('flashStations', 1) as Sourced<number>,
  };
}

function setJobLimits(ticket: TicketValues, shop: ShopValues): Partial<Record<JobLimitKey, SetValue>> {
  const set: Partial<Record<JobLimitKey, SetValue>> = {};
  const add = (limits: TicketValues['limits'], from: 'ticket' | 'shop'): void => {
    for (const [key, value] of Object.entries(limits ?? {})) {
      if (value !== undefined) set[key as JobLimitKey] = { value, from, path: `limits.${key}` };
    }
  };
  add(shop.limits, 'shop');
  add(ticket.limits, 'ticket');
  return set;
}

function checkNames(
  list: readonly { readonly name: string }[] | undefined,
  path: string,
  problems: TicketProblem[],
): void {
  const seen = new Set<string>();
  for (const [index, { name }] of (list ?? []).entries()) {
    const folded = foldInkName(name);
    if (seen.has(folded)) {
      addProblem(problems, {
        path: `${path}[${index}].name`,
        expected: 'a name not used above',
        received: showValue(name),
      });
    }
    seen.add(folded);
  }
}

function toHex(colour: string): string {
  const word = hexOfColourWord(colour);
  if (word !== null) return word;
  const hex = colour.trim().toLowerCase();
  return hex.length === 4 ? `#${[...hex.slice(1)].map((digit) => digit + digit).join('')}` : hex;
}

function throwIfWrong(
  input: { readonly ticket?: TicketText; readonly shop?: TicketText },
  ticketProblems: readonly TicketProblem[],
  shopProblems: readonly TicketProblem[],
): void {
  const names: Record<Exclude<ValueOrigin, 'default'>, string> = {
    ticket: input.ticket?.fileName ?? 'ticket',
    shop: input.shop?.fileName ?? 'shop file',
  };
  if (ticketProblems.length > 0 && shopProblems.length > 0) {
    const all = [
      ...ticketProblems.map((problem) => ({ ...problem, path: `${names.ticket}: ${problem.path}` })),
      ...shopProblems.map((problem) => ({ ...problem, path: `${names.shop}: ${problem.path}` })),
    ];
    throw new WrongTicketError(`${names.ticket} with ${names.shop}`, all);
  }
  if (ticketProblems.length > 0) throw new WrongTicketError(names.ticket, ticketProblems);
  if (shopProblems.length > 0) throw new WrongTicketError(names.shop, shopProblems);
}
