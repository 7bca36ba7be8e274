const mmPer: Readonly<Record<string, number>> = { '': 1, mm: 1, cm: 10, in: 25.4, inch: 25.4, '"': 25.4, '″': 25.4 };

/** A length as people type it, in mm to a ten-thousandth: "12,5", "10 cm", "1/4 in", "11 3/4"". Null when it is none. */
export function millimetresOf(typed: string): number | null {
  const match = /^(?:(\d+)\s+)?(?:(\d+)\/(\d+)|(\d*[.,]?\d+|\d+[.,]))\s*(mm|cm|inch|in|"|″)?$/i.exec(typed.trim());
  if (match === null) return null;
  const [, whole, upper, lower, plain, unit = ''] = match;
  if (whole !== undefined && upper === undefined) return null;
  const count =
    upper === undefined ? Number(plain.replace(',', '.')) : Number(whole ?? 0) + Number(upper) / Number(lower);
  const mm = count * mmPer[unit.toLowerCase()];
  return Number.isFinite(mm) ? Math.round(mm * 10_000) / 10_000 : null;
}
