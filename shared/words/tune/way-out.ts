/** The button beside each sentence that stops a step. */
export const wayOutWords = {
  roomAgain: 'Read the room again',
  roomFromOutside: 'Read the instrument from outside the room, or have somebody outside read it. Below 35 ppm the work can go on.',
  roomField: 'CO in the room now',
  roomOfNone:
    'The instrument that measures this CO belongs to no visit, so no visit takes a reading for it. The alarm ends when its meter reads below 35 ppm.',
  roomLeft: 'Back to the figures',
  roomSave: 'Save reading',
  oilCause: 'Enter the cause found',
  oilAbout: 'Look at nozzle, pressure and cut-off, and for water in the oil. Then take a new smoke spot: it must be free of oil.',
  oilField: 'What it was, and what was done',
  oilSave: 'Save the cause',
  toAirCurve: 'Go to the air curve',
} as const;
