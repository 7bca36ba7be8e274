import type { Limit } from '../findings/finding.ts';
import type { ResolvedScreen, ResolvedTicket } from '../ticket/ticket.ts';
import { threadsPerInchFromPerCm } from '../units/lengths.ts';
import type { ReportTicket } from './reportJson.ts';

/** The ticket as the report shows it: the frames of the inks printed, then those only the ticket lists. */
export function reportTicket(ticket: ResolvedTicket, printedInkNames: readonly string[]): ReportTicket {
  const inArt = printedInkNames.map((name) => ticket.screenFor(name));
  const listed = ticket.screens.filter((frame) => !inArt.some((known) => known.inkName === frame.inkName));
  return {
    file: ticket.ticketFile,
    shopFile: ticket.shopFile,
    garmentHex: ticket.garment.colourHex.value,
    fabric: ticket.garment.fabric.value,
    print: {
      widthMm: ticket.print.widthMm?.value ?? null,
      heightMm: ticket.print.heightMm?.value ?? null,
      quantity: ticket.print.quantity?.value ?? null,
      location: ticket.print.location?.value ?? null,
      placement: ticket.print.placement?.value ?? null,
    },
    press: {
      heads: ticket.press.heads.value,
      registrationMm: ticket.press.registrationMm.value,
      platenMm: ticket.press.platenMm.value,
    },
    limits: limitsOf(ticket.limits),
    screens: [...inArt, ...listed].map(frameOf),
  };
}

function frameOf(frame: ResolvedScreen): ReportTicket['screens'][number] {
  const mesh = frame.mesh?.value;
  return {
    ink: frame.inkName,
    role: frame.role.value,
    listed: frame.listed,
    mesh: mesh
      ? {
          threadsPerCm: mesh.threadsPerCm,
          threadsPerInch: threadsPerInchFromPerCm(mesh.threadsPerCm),
          threadUm: mesh.threadUm,
          openingUm: mesh.openingUm,
          from: frame.mesh!.from,
        }
      : null,
    limits: limitsOf(frame.limits),
  };
}

function limitsOf(limits: ResolvedTicket['limits'] | ResolvedScreen['limits']): Record<string, Limit> {
  const entries: [string, Limit][] = Object.entries(limits);
  return Object.fromEntries(entries.sort(([a], [b]) => (a < b ? -1 : 1)));
}
