/** What each simulated scenario is called, what happens in it, and what it teaches. */
export const scenarioTexts = {
  'tune-up': {
    title: 'Normal tune-up',
    about: 'A healthy burner lit from cold with too much air. Warms up in a few minutes; then you set the shutter.',
    teaches: ['Wait for settled before reading', 'Close the air until smoke begins, then open it again for reserve'],
  },
  'cold-start': {
    title: 'Cold start',
    about: 'Off since yesterday, heavy metal, cold chimney. CO spikes at light-off, draft and stack temperature take their time.',
    teaches: ['A flat half minute is not rest', 'Draft grows with the chimney, and O2 with it'],
  },
  purge: {
    title: 'The instrument takes fresh air',
    about: 'A warm burner; the instrument draws fresh air for half a minute, three times. The stack temperature does not show it.',
    teaches: ['O2 leaps to 20.9 and CO to 0 while the stack stays: the sample changed, not the flame'],
  },
  unplug: {
    title: 'The cable is pulled',
    about: 'A warm burner; the cable comes out twice, for half a minute and for two minutes, and is put back.',
    teaches: ['A gap stays a gap; nothing is joined across it'],
  },
  'four-starts': {
    title: 'Four starts',
    about: 'Lit from cold, stopped and lit again three times while warm. Watch how it lights, not only how it burns.',
    teaches: ['One start says little: cold and warm, alike or not, tell what the spark does'],
  },
  'slow-cell': {
    title: 'Old, slow cells',
    about: 'A healthy burner. The instrument’s cells take minutes to answer.',
    teaches: ['After every turn the instrument needs longer than the flame'],
  },
  'worn-nozzle': {
    title: 'Worn nozzle',
    about:
      'Too much oil in drops that are too coarse: smoke although there is plenty of air, CO never as low as usual, now and then an oily spot.',
    teaches: ['High O2 and smoke together point to mixing, not to the air setting'],
  },
  'low-pressure': {
    title: 'Low oil pressure',
    about: 'The pump gives little more than half its pressure: less oil, poor spray, high O2 with smoke, a cooler stack.',
    teaches: ['Less pressure means less oil and a worse spray: measure it before turning the air'],
  },
  flutter: {
    title: 'Fluttering flame',
    about: 'The flame pulses with the oil pressure. Averages look fine, but the readings swing.',
    teaches: ['Look at the spread and its frequency, then at the pressure gauge and the sight tube'],
  },
  'creeping-co': {
    title: 'Creeping CO',
    about: 'CO climbs minute by minute while O2 does not change.',
    teaches: ['Settled is not the same as safe: watch where CO goes', 'Check the room and the flame pattern before adding air'],
  },
  'after-drip': {
    title: 'After-drip',
    about:
      'The burner stops, but oil still drips: CO and smoke go on when they should be gone. It stops twice and is lit again in between.',
    teaches: ['A CO bump after the stop means oil without enough air: cut-off, air in the line, regulator'],
  },
  'air-leak': {
    title: 'Air leak before the probe',
    about: 'The probe cone comes loose: room air dilutes the sample. O2 up, CO down, and the air-free CO stays where it was.',
    teaches: ['Dilution moves O2 and CO on a straight line to fresh air; combustion changes the air-free CO'],
  },
  'sooted-exchanger': {
    title: 'Sooted exchanger',
    about: 'O2 is fine and the stack is far too hot; the draft is lost through the appliance.',
    teaches: ['High stack temperature with normal O2: compare the drafts over the fire and at the breech'],
  },
  'falling-draft': {
    title: 'Falling draft',
    about: 'The chimney loses its draft within a quarter of an hour; O2 falls slowly with it and the flame comes closer to smoking.',
    teaches: ['A slow fall of O2 with falling suction is not the burner: look at the flue'],
  },
  'depressurised-room': {
    title: 'Room under suction',
    about:
      'An exhaust fan starts: the room pulls against the chimney, the flame runs short of air, CO comes into the room. Later the fan is stopped again.',
    teaches: ['Repeat the draft with every fan in the house on', 'CO in the room ends the job'],
  },
  'house-fans': {
    title: 'House with fans',
    about:
      'A warm burner on a modest chimney, draft on the instrument. When the fans come on in the worst-case test of a visit, draft and O2 fall.',
    teaches: ['Draft, O2 and room CO with every fan off, then with every fan on: one test, one trace'],
  },
  'zeroed-in-bad-air': {
    title: 'Zeroed in bad air',
    about: 'The instrument was zeroed where there was CO. It reads below zero in clean air and too low in the flue.',
    teaches: ['CO below zero means a wrong zero: take it again outdoors'],
  },
  'bench-healthy': {
    title: 'Bench: instrument in good order',
    about: 'Fresh air and reference gases in turn; everything within limits.',
  },
  'drifting-zero': {
    title: 'Bench: drifting zero',
    about: 'The CO zero climbs by some tens of ppm an hour; every return to fresh air is a little higher.',
  },
  'low-span': {
    title: 'Bench: low span',
    about: 'The CO cell has aged and reads low on every gas; its zero is right.',
  },
  'clogged-filter': {
    title: 'Bench: clogged filter',
    about: 'The sampling line is slow on all gases alike: longer dead time, longer rise. The end values are right.',
  },
  'slow-co-cell': {
    title: 'Bench: slow CO cell',
    about: 'The CO cell has aged and takes several times as long to answer; the gas arrives in time and O2 is quick.',
  },
  'cross-sensitive-co': {
    title: 'Bench: CO cell that reads hydrogen',
    about: 'Hydrogen in the gas is shown as CO.',
  },
  'non-linear-co': {
    title: 'Bench: CO not linear',
    about: 'Right at low CO, reads lower and lower towards the top of its range.',
  },
};
