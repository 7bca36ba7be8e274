/**
 * Usual cautions, shown on every plan. Sources: published safety pages for print studios, *Patty's Industrial Hygiene*
 * on photocuring lamps, the NIOSH survey HETA 2007-0053-3092 on solvents; the rest is common practice.
 */
export const cautions: readonly string[] = [
  'Exposure unit: keep the lid closed and its interlocks working, and never look at the lamp. Ultraviolet light harms eyes and skin, and some lamps make ozone. A broken mercury lamp needs the spill procedure of its maker.',
  'Heat: flash units, dryers and fresh prints burn. Never leave a flash over a platen that stands still: it starts fires. Vent the dryer and keep it free of lint.',
  'Cure: temperatures and times are the ink maker’s to give. Check them with temperature strips and a wash test, and watch for dye coming through on polyester and scorching on cotton.',
  'Chemicals: read the safety data sheet of each. Wear gloves, and goggles when washing out or reclaiming; keep the air moving; never mix products. Solvents enter through skin and lungs, and several small exposures add up. Spray adhesive counts too.',
  'Pressure washer: the jet injures. Keep hands out of it, wear a face shield, and keep sockets and leads out of the splash and on a residual-current device.',
  'Press: guards on, emergency stop in reach, power locked off before anyone reaches into an indexing press. Wiring is for a licensed electrician.',
  'Follow the ink and equipment makers’ data sheets, local codes and licensed practice. This plan does not replace them.',
];
