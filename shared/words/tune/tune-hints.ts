import type { Hint, PatternKey } from '../../tuning/diagnosis/patterns.ts';
import type { Formats } from './tune-formats.ts';
import { type HintWords, type Row, value, given, times, lateSeen } from './hint-words.ts';

const rows: Readonly<Record<PatternKey, Row>> = {
  dilution: {
    title: 'Room air in the sample',
    seen: (v, f) =>
      `O2 rose from ${f.o2(value(v, 'fromO2'))} to ${f.o2(value(v, 'toO2'))} and CO fell, while CO air-free stayed (${f.ppm(value(v, 'fromAirFreePpm'))}, then ${f.ppm(value(v, 'toAirFreePpm'))}). That is how mixed-in air looks, about ${f.percent(100 * value(v, 'airShare'))} of the sample.`,
    may: ['a loose probe cone', 'a cracked hose or a leaking water trap', 'an air leak into the flue before the test hole'],
    next: 'Seat the cone and check the hose. If O2 falls back, the flame had not changed.',
  },
  'smoke-with-air': {
    title: 'Smoke with plenty of air',
    seen: (v, f) => `Smoke ${f.smoke(value(v, 'smoke'))} at O2 ${f.o2(value(v, 'o2'))}.`,
    may: [
      'a worn, wrong or off-centre nozzle',
      'low oil pressure',
      'a dirty or wrongly set head',
      'oil striking metal or the chamber',
      'a smoky flame seen through a diluted sample',
    ],
    next: 'Measure the pump pressure, then look at nozzle and head. More air is not the answer yet.',
  },
  'late-onset': {
    title: 'Smoke begins early',
    seen: (v, f) => `Smoke begins at O2 ${f.o2(value(v, 'onsetO2'))}, higher than a good head needs.`,
    may: ['poor mixing by nozzle, head or pressure', 'an air leak that raises O2 at the probe'],
    next: 'Check nozzle, pressure and head position, and look for air leaks, before the air is locked.',
  },
  'over-aired': {
    title: 'Flame chilled by air',
    seen: (v, f) => `O2 ${f.o2(value(v, 'o2'))} with CO air-free ${f.ppm(value(v, 'airFreePpm'))} and no smoke.`,
    may: ['too much air', 'too much draft over the fire', 'a head opened too far for the firing rate'],
    next: 'Check the draft over the fire and the head. Less air only where two trials show that CO falls with it.',
  },
  'plain-excess-air': {
    title: 'Much excess air',
    seen: (v, f) => `O2 ${f.o2(value(v, 'o2'))} with a clean flame.`,
    may: [
      'air set too far open',
      'a nozzle smaller than head and air are set for',
      'an air leak before the probe',
      'a leak in the heat exchanger',
    ],
    next: 'Compare CO air-free before and after sealing. A higher O2 at the breech than over the fire points to a leak between them.',
  },
  'too-little-air': {
    title: 'Too little air',
    seen: (v, f) => `O2 ${f.o2(value(v, 'o2'))}, smoke ${f.smoke(value(v, 'smoke'))}, CO air-free ${f.ppm(value(v, 'airFreePpm'))}.`,
    may: ['air set too far closed', 'a nozzle larger than head and air are set for', 'a blocked inlet, fan or flue', 'low draft'],
    next: 'Open the air now. Then look at fan, inlet and the draft drop.',
  },
  'oily-spot': {
    title: 'Oil on the smoke paper',
    seen: (v) => `A yellow or brown trace on ${value(v, 'spots') === 1 ? 'one spot' : `${value(v, 'spots')} spots`}.`,
    may: ['very poor atomizing', 'a chilled flame', 'water in the oil', 'after-drip'],
    next: 'Take the probe out. Check nozzle, pressure and cut-off, and find out why before another reading.',
  },
  'pressure-off': {
    title: 'Oil pressure off',
    seen: (v, f) => `The gauge shows ${f.pressure(value(v, 'pumpPa'))}; the sheet asks for ${f.pressure(value(v, 'wantedPa'))}.`,
    may: ['the regulator set wrongly', 'a worn pump or coupling', 'a clogged strainer or filter', 'air in the oil line'],
    next: 'Set the pressure first; air readings taken before it no longer count.',
  },
  'hot-stack': {
    title: 'High stack temperature',
    seen: (v, f) =>
      `Net stack ${f.difference(value(v, 'netStackK'))} at O2 ${f.o2(value(v, 'o2'))}${given(v, 'lastNetStackK', (last) => `; the last visit left ${f.difference(last)}`)}.`,
    may: ['soot or scale in the heat exchanger', 'over-firing', 'missing baffles', 'much excess air'],
    next: 'Read the draft over the fire and at the breech. If much draft is lost between them, look for dirt; if none is, look for missing baffles.',
  },
  'hot-stack-no-drop': {
    title: 'High stack temperature without draft drop',
    seen: (v, f) => `Net stack ${f.difference(value(v, 'netStackK'))}, draft drop ${f.draft(value(v, 'dropPa'))}.`,
    may: ['missing baffles', 'gas short-circuiting past the heat exchanger'],
    next: 'Open and look at the flue passages.',
  },
  'hot-stack-high-drop': {
    title: 'High stack temperature and draft drop',
    seen: (v, f) =>
      `Net stack ${f.difference(value(v, 'netStackK'))} at O2 ${f.o2(value(v, 'o2'))}, and ${f.draft(value(v, 'dropPa'))} of draft lost through the appliance.`,
    may: ['soot or scale in the heat exchanger', 'a blocked flue passage', 'over-firing'],
    next: 'Open and clean, then find out where the smoke came from.',
  },
  'high-draft-drop': {
    title: 'High draft drop',
    seen: (v, f) => `${f.draft(value(v, 'dropPa'))} of draft lost through the appliance.`,
    may: ['soot in the flue passages', 'over-firing', 'much excess air'],
    next: 'Look into the flue passages before the air is set.',
  },
  'cool-stack': {
    title: 'Low stack temperature',
    seen: (v, f) => `Net stack ${f.difference(value(v, 'netStackK'))} at O2 ${f.o2(value(v, 'o2'))}.`,
    may: ['under-firing', 'cold return water', 'an oversized heat exchanger', 'an air leak', 'a condensing appliance, where this is right'],
    next: 'Compare with the dew points, and look at the chimney for condensate.',
  },
  'creeping-co': {
    title: 'CO creeps up',
    seen: (v, f) =>
      `CO rose ${f.figure(Math.round(value(v, 'ppmPerMinute') * 10) / 10)} ±${f.figure(Math.max(0.1, Math.round(value(v, 'half') * 10) / 10))}\u2009ppm/min for ${f.duration(60 * value(v, 'minutes'))}, to ${f.ppm(value(v, 'toPpm'))}, with O2 flat.`,
    may: [
      'a flame striking metal',
      'a heat exchanger that blocks',
      'flue gas drawn in with the air',
      'room air used up',
      'hydrogen acting on the CO cell',
    ],
    next: 'Read CO in the room and open a window. If CO stops rising, look at the combustion air.',
  },
  'o2-falling': {
    title: 'O2 falls slowly',
    seen: (v, f) =>
      `O2 fell from ${f.o2(value(v, 'fromO2'))} to ${f.o2(value(v, 'toO2'))} in ${f.duration(60 * value(v, 'minutes'))} with nothing turned.`,
    may: ['an air inlet closing with lint', 'a room under suction', 'draft falling as the appliance soots up'],
    next: 'Read both drafts and take a smoke spot.',
  },
  flutter: {
    title: 'The flame flutters',
    seen: (v, f) =>
      `O2 swings at ${f.figure(value(v, 'hz'))}\u2009Hz, shown by ±${f.figure(value(v, 'shownO2'))}\u2009%; at the flame perhaps ±${f.o2(value(v, 'flameO2'))}. Faster than ${f.figure(value(v, 'highestHz'))}\u2009Hz cannot be told apart at this line rate.`,
    may: ['pulsing oil pressure', 'air in the oil', 'a clogged strainer', 'low draft or wind at the chimney', 'a nozzle too far forward'],
    next: 'Watch the needle of the pressure gauge, then look for bubbles in the oil.',
  },
  'draft-falling': {
    title: 'Draft falls',
    seen: (v, f) =>
      `Draft went from ${f.draft(value(v, 'fromPa'))} to ${f.draft(value(v, 'toPa'))} in ${f.duration(60 * value(v, 'minutes'))}.`,
    may: ['a chimney that cools or is wet', 'a sticking damper', 'an exhaust fan', 'a flue that blocks'],
    next: 'Stop every fan and read again. Watch room CO: a flue with no draft lets gas into the room.',
  },
  'draft-step': {
    title: 'Draft lost at once',
    seen: (v, f) =>
      `Draft went from ${f.draft(value(v, 'fromPa'))} to ${f.draft(value(v, 'toPa'))} within a minute; O2 from ${f.o2(value(v, 'fromO2'))} to ${f.o2(value(v, 'toO2'))}.`,
    may: ['an exhaust fan or dryer that started', 'a door closed or opened', 'a damper that moved'],
    next: 'Ask what was switched on. Repeat the draft with every fan in the house on, and read room CO.',
  },
  'draft-drop-grown': {
    title: 'Draft drop has grown',
    seen: (v, f) => `Draft drop ${f.draft(value(v, 'dropPa'))}; the last visit left ${f.draft(value(v, 'lastDropPa'))}.`,
    may: ['soot in the flue passages', 'a higher firing rate than then'],
    next: 'Clean, and find out where the smoke came from.',
  },
  'after-drip': {
    title: 'CO after the flame',
    seen: (v, f) => `CO rose by ${f.ppm(value(v, 'risePpm'))} after the burner stopped, for ${f.duration(value(v, 'seconds'))}.`,
    may: ['oil dripping after the stop', 'air in the nozzle line', 'a leaking regulator or valve'],
    next: 'Test the shut-off: the gauge drops at once, then holds. Look for oil in the chamber before the next start.',
  },
  purge: {
    title: 'The instrument took fresh air',
    seen: (v, f) =>
      `O2 went to that of air ${times(value(v, 'times'))}, last for ${f.duration(value(v, 'seconds'))}, while the stack stayed hot.`,
    may: ['the instrument zeroing or purging itself', 'a hose that came off'],
    next: 'Nothing at the burner. Those stretches are not used.',
  },
  'probe-out': {
    title: 'The probe was out',
    seen: (v, f) => `O2 went to that of air and the stack temperature fell to the room's, for ${f.duration(value(v, 'seconds'))}.`,
    may: ['the probe pulled out of the flue'],
    next: 'Put it back to the same depth and wait for settled.',
  },
  stuck: {
    title: 'O2 does not change',
    seen: (v, f) => `O2 has shown exactly ${f.o2(value(v, 'o2'))} for ${f.duration(value(v, 'seconds'))} while other things moved.`,
    may: ['a frozen cell or display', 'lines repeated by the instrument'],
    next: 'Give the instrument fresh air: O2 must go to 20.9 %.',
  },
  'slow-cell': {
    title: 'The instrument answers slowly',
    seen: (v, f) => `O2 needed ${f.duration(value(v, 'seconds'))} from 10 % to 90 % of its step.`,
    may: ['an old cell', 'a clogged filter or a wet hose', 'a weak sample pump'],
    next: 'Change the filter, then test the response on the bench. Until then wait longer after every turn.',
  },
  'impossible-o2': {
    title: 'O2 is not possible',
    seen: (v, f) => `O2 shows ${f.o2(value(v, 'o2'))}.`,
    may: ['a wrong zero or span', 'a drifting cell'],
    next: 'Take the instrument outdoors and check it in fresh air.',
  },
  'negative-co': {
    title: 'CO below zero',
    seen: (v, f) => `CO shows ${f.ppm(value(v, 'ppm'))}, below zero.`,
    may: ['a zero taken where there was CO', 'a drifting cell'],
    next: 'Zero the instrument outdoors, then read CO in this room: the air where it was zeroed may not be clean.',
  },
  'slow-warm-up': {
    title: 'Still warming up',
    seen: (v, f) =>
      `The stack still climbs ${f.difference(10 * value(v, 'kPerMinute'))} in ten minutes, after ${f.duration(60 * value(v, 'minutes'))} of fire.`,
    may: ['heavy metal or much water', 'a start from cold', 'a cold chimney, whose draft still grows'],
    next: 'Wait for settled, then set the draft, then the air.',
  },
  gap: {
    title: 'Lines were missing',
    seen: (v, f) => `The lines stopped ${times(value(v, 'times'))}, last for ${f.duration(value(v, 'seconds'))}.`,
    may: ['a loose cable', 'an instrument that switched itself off', 'a computer that slept'],
    next: 'Check the cable. The record shows the gap as a gap.',
  },
  'late-light': {
    title: 'Lights late',
    seen: lateSeen,
    may: ['an electrode gap outside the card', 'a weak transformer or igniter', 'tips that are worn or dirty'],
    next: 'Power off. Measure the electrode gap, then the tips’ height and distance.',
  },
  'light-off-puff': {
    title: 'Lights late, with a puff',
    seen: lateSeen,
    may: ['tips too high: the spark is outside the spray', 'tips too far behind the spray', 'a slow oil valve or pump'],
    next: 'Stop starting it. Power off, look for oil in the chamber, then measure the height of the tips above the nozzle.',
  },
  'later-each-start': {
    title: 'Lights later at each start',
    seen: lateSeen,
    may: ['tips too far ahead of the nozzle: carbon grows on them', 'a porcelain that soots over', 'a transformer that weakens with heat'],
    next: 'Power off. Look for carbon between the tips, then measure how far they are ahead of the nozzle face.',
  },
  'late-when-cold': {
    title: 'Lights late from cold only',
    seen: lateSeen,
    may: ['tips too far back: the spark reaches the spray only when it is warm', 'cold, thick oil', 'low oil pressure'],
    next: 'Measure how far the tips are ahead of the nozzle face; then the pump pressure.',
  },
  'late-when-warm': {
    title: 'Lights late when warm',
    seen: lateSeen,
    may: ['a cracked porcelain: the crack opens with the heat', 'a transformer that weakens with heat'],
    next: 'Power off. Look at each porcelain in good light, all round; replace it when in doubt.',
  },
  'lights-now-and-then': {
    title: 'Lights well at one start and late at the next',
    seen: lateSeen,
    may: ['a tip too near to metal: the spark takes one way or the other', 'a loose cable or spring', 'a cracked porcelain'],
    next: 'Power off. Measure from each tip to the nearest metal, then look at the cables.',
  },
  'late-and-oily': {
    title: 'Lights late, with oil on the paper',
    seen: (v, f) => `${lateSeen(v, f)} A yellow or brown trace on the smoke paper.`,
    may: ['tips too low: they stand in the spray and oil runs off them', 'a nozzle that drips', 'a nozzle too far from the head'],
    next: 'Take the probe out. Power off, measure the height of the tips above the nozzle, then look at the nozzle.',
  },
  'late-and-smoky': {
    title: 'Lights late and smokes',
    seen: (v, f) => `${lateSeen(v, f)} Smoke ${f.smoke(value(v, 'smoke'))} at O2 ${f.o2(value(v, 'o2'))}.`,
    may: ['tips that are not level: one of them stands in the spray', 'tips too low', 'a worn nozzle'],
    next: 'Power off. Compare the height of the two tips, then measure both against the card.',
  },
  'one-sided-flame': {
    title: 'The flame leans to one side',
    seen: (v, f) =>
      `${value(v, 'uneven')} smoke spots are darker on one side, up to ${f.smoke(value(v, 'smoke'))}, at O2 ${f.o2(value(v, 'o2'))}.`,
    may: ['a nozzle that is off the middle of the head', 'a bent head', 'a nozzle blocked on one side'],
    next: 'Measure how far the nozzle is off the middle of the head. More air is not the answer yet.',
  },
  'chilled-and-smoky': {
    title: 'Smoke and CO with plenty of air',
    seen: (v, f) => `Smoke ${f.smoke(value(v, 'smoke'))} and CO air-free ${f.ppm(value(v, 'airFreePpm'))} at O2 ${f.o2(value(v, 'o2'))}.`,
    may: ['a head too far back: the flame touches the tube end and chills', 'a flame that strikes the chamber', 'a worn nozzle'],
    next: 'Measure from the head to the tube end with the adjuster at zero. More air is not the answer yet.',
  },
  'co-with-air': {
    title: 'CO with air and no smoke',
    seen: (v, f) => `CO air-free ${f.ppm(value(v, 'airFreePpm'))} at O2 ${f.o2(value(v, 'o2'))}, no smoke.`,
    may: [
      'a head too far forward: air passes the flame and chills its edge',
      'too much draft over the fire',
      'a chamber that chills the flame',
    ],
    next: 'Measure from the head to the tube end with the adjuster at zero, then the draft over the fire.',
  },
  'lifting-flame': {
    title: 'The flame lifts',
    seen: (v, f) => `O2 swings at ${f.figure(value(v, 'hz'))}\u2009Hz with CO air-free ${f.ppm(value(v, 'airFreePpm'))} and no smoke.`,
    may: ['a head setting too small for this nozzle: the air is too fast', 'a nozzle too small for the head', 'too much draft'],
    next: 'Compare the head setting with the card for this nozzle flow.',
  },
};

export function hintWords(hint: Hint, formats: Formats): HintWords {
  const { title, seen, may, next } = rows[hint.pattern];
  return { title, seen: seen(hint.figures, formats), may, next };
}

export const hintLabels = {
  seen: 'Seen',
  may: 'May come from',
  next: 'Check next',
  stretch: 'Show the stretch',
  none: 'Nothing unusual seen.',
} as const;
