/** The page that the owner keeps. */
import { counted, capital, joined } from './page-one.ts';

export const ownerWords = {
  about: (number: number, day: string): string => `Visit ${number} · ${day} · keep this page`,
  by: (name: string, licence: string | undefined): string => `${name}${licence === undefined ? '' : `, licence ${licence}`}`,
  doneTitle: 'What was done',
  done: {
    asFound: 'The burner was measured as it was found.',
    changed: {
      draft: 'the draft was set',
      nozzle: 'the nozzle was changed',
      pressure: 'the oil pressure was set',
      head: 'the burner head was set',
      electrodes: 'the electrodes were set',
      cleaning: 'the appliance was cleaned',
      sealing: 'air leaks were sealed',
      house: 'a fan or a door in the house was changed',
    },
    changes: (parts: readonly string[]): string => `${capital(joined(parts))}.`,
    air: (trials: number): string => `The air was set after trying ${trials === 1 ? 'one setting' : `${counted(trials)} settings`}.`,
    left: 'It was measured once more as it was left.',
    nothing: 'No work was recorded.',
    notFinished: 'The work is not finished: the burner was not measured as left.',
  },
  columns: { what: '', before: 'when we came', after: 'when we left', means: 'what it means' },
  rows: {
    smoke: 'Smoke number',
    co: 'Carbon monoxide in the flue, air-free',
    heat: 'Efficiency, % of the fuel’s heat',
    stack: 'Flue gas above room temperature',
  },
  means: {
    smoke: 'Soot in the appliance wastes heat. 0 is clean.',
    co: 'A poisonous gas that you cannot smell. Less is better.',
    heat: 'The part of the fuel’s heat that is not lost up the chimney.',
    same: 'The same within the uncertainty. No saving is claimed.',
    stack: 'Warmer flue gas takes more heat up the chimney.',
  },
  heatNote:
    'The efficiency is measured in the flue gas at steady running; ± is its uncertainty. What a year saves also depends on weather and use.',
  safe: {
    missed: (names: readonly string[]): string =>
      `${names.length === 1 ? 'One limit is' : `${capital(counted(names.length))} limits are`} not met: ${joined(names)}. Ask what will be done about it.`,
    allPassed: (count: number): string =>
      count === 1
        ? 'The one safety test that applies was made and passed.'
        : `All ${counted(count)} safety tests that apply were made and passed.`,
    no: 'Do not run the burner until this is put right.',
    repair: 'A repair is needed soon.',
    allMet: 'Every limit that was set is met.',
    leftOff: (owner: string): string => `The burner was left off and red-tagged. Told: ${owner}.`,
    open: (count: number): string => `Not every safety test was made: ${counted(count)} ${count === 1 ? 'is' : 'are'} still to do.`,
    none: 'The safety tests were not made on this visit.',
    roomCo: (ppm: string): string => `Carbon monoxide in the room: ${ppm} when last read.`,
    noRoomCo: 'Carbon monoxide in the room was not read.',
    training: 'This was an exercise on simulated or replayed data. It says nothing about a real burner.',
  },
  toDoTitle: 'What is still to do',
  nothingToDo: 'Nothing was noted.',
  told: (whom: string, how: string, time: string): string => `Told to ${whom}, ${how}, ${time}.`,
  callTitle: 'Call for service',
  alarmTitle: 'Carbon monoxide',
  call: 'Smoke from the chimney, soot around the burner or a smell of oil or exhaust: switch off and call.',
  alarm: [
    'Keep a carbon monoxide alarm in working order on every floor where people sleep. When it sounds, everybody leaves at once; call for help from outside.',
    'Headache, dizziness or nausea that goes away outdoors can be carbon monoxide. Leave the house and call for help.',
  ],
  switchTitle: 'If the burner stops',
  switch: [
    'Press the reset button once, not more. If it stops again, leave it off and call: oil may have collected, and lighting it is dangerous.',
    'The emergency switch turns the burner off. Know where it is, and keep the way to it free.',
  ],
  dueTitle: 'Next visit',
  noDue: 'No date was set. Once a year is common practice; the maker’s instructions and local rules come first.',
} as const;
