/** What this version does not measure, said in every report so that silence is not taken for a pass. */
export const notLookedAt: readonly { readonly title: string; readonly why: string }[] = [
  {
    title: 'Optical density of a printed film',
    why: 'A file says how black a film is meant to be, not how black it is. Hold the film to a densitometer.',
  },
  {
    title: 'Colour of the inks on the garment',
    why: 'The colours shown are for telling inks apart. Match inks with a strike-off.',
  },
];
