import type { ReportJson } from '../../../../src/report/reportJson.ts';

/** What the report says was on the ticket, as a ticket to change: what came from the shop or by default is left out. */
export function ticketOf({ job, ticket }: ReportJson): Readonly<Record<string, unknown>> {
  const ownLimits = (limits: ReportJson['ticket']['limits']) =>
    Object.fromEntries(
      Object.entries(limits).flatMap(([name, { from, value }]) => (from === 'ticket' ? [[name, value]] : [])),
    );
  const { heads, registrationMm, platenMm } = ticket.press;
  const { widthMm, heightMm, quantity, location } = ticket.print;
  return {
    job: job.name,
    garment: { colour: ticket.garmentHex, fabric: ticket.fabric },
    print: { widthMm, heightMm, quantity, location },
    press: { heads, registrationMm, platenMm },
    limits: ownLimits(ticket.limits),
    screens: ticket.screens
      .filter(({ listed }) => listed)
      .map(({ ink, role, mesh, limits }) => ({
        ink,
        role,
        mesh: mesh?.from === 'ticket' ? { threadsPerCm: mesh.threadsPerCm, threadUm: mesh.threadUm } : undefined,
        limits: ownLimits(limits),
      })),
  };
}
