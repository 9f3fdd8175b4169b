/** What the commands on runs and lines say. */
export const captureTexts = {
  usage: (fuelIds: string | number) =>
    `Usage: flueside capture --port P --out FILE [--recipe NAME|FILE [--poll]] [--fuel ID] [--seconds N] [--json]
                        [--baud 9600] [--data-bits 8] [--parity none|even|odd] [--stop-bits 1|2] [--flow none|xon-xoff|rts-cts]

Logs an instrument's lines to a run file until Ctrl-C (or for N seconds), then prints a summary. When the port is unplugged the run goes on
with a gap and the port is opened again when it is back. Without --recipe the recipe is learned from the lines. FILE must not exist yet.
A recipe of a polled instrument sends nothing by itself: with --poll you agree that the bytes it asks with, which are printed first, are sent.
Fuels: ${fuelIds}`,
  summary: 'Log a serial port to a run file, without a window.',
  namePortAndFile: 'Name the port (--port) and the file (--out).',
  pollNeedsRecipe: '--poll needs a recipe (--recipe) that says what to ask with.',
  noSuchValue: (value: string | number) => `--${value} has no such value.`,
  wouldAsk: (bytes: string | number) => `This recipe asks with ${bytes}. Nothing is sent; add --poll to agree to it.`,
  asks: (bytes: string | number, value: string | number) => `Asking with ${bytes} every ${value} s.`,
  noFolder: (value: string | number) => `The folder ${value} is not there.`,
  captured: (
    out: string | number,
    lines: string | number,
    duration: string | number,
    understood: string | number,
    rejected: string | number,
    count: string | number,
    readings: string | number,
  ) => `${out}: ${lines} lines in ${duration} s, ${understood} understood, ${rejected} not; ${count} gaps, ${readings} full readings.`,
  asked: (sent: string | number, answered: string | number, timedOut: string | number, late: string | number, double: string | number) =>
    `Asked ${sent} times: ${answered} answers, ${timedOut} without, ${late} late, ${double} twice.`,
  noRecipe: 'No recipe was certain; `read` asks for one.',
};

export const learnTexts = {
  usage: `flueside learn FILE|- [--json]

Reads a captured text file (or standard input) and proposes line recipes for it, best first: with the confidence, the reasons,
a preview of the lines as the recipe reads them, and a question where two readings are possible.`,
  summary: 'propose line recipes for a captured text',
  nameFile: 'Name a file, or - for standard input.',
};

export const portsTexts = {
  usage: `Usage: flueside ports [--json]

Lists the serial ports with what the system knows of them. A port that is not listed (over a network, a pseudo-terminal) can still be
opened by its name.`,
  summary: 'List the serial ports.',
  noPort: 'No serial port was found. One that is not listed can still be opened by its name.',
};

export const readRunTexts = {
  noLines: 'There are no lines.',
};

export const readTexts = {
  usage: (fuelIds: string | number) =>
    `Usage: flueside read FILE|- [--recipe NAME|FILE] [--fuel ID] [--co2-max %] [--air-c T] [--rate LINES_PER_S] [--samples] [--gas]
                     [--json] [--teach OUT.json] [--taught IN.json]

Reads captured lines (or a run file) just as live capture does: which recipe, state changes, readings, lines not understood, a summary.
Without --recipe the recipe is learned from the lines; when they can be read in more than one way, the question is printed and nothing else.

  --recipe    a shipped recipe's name, one of your own, or a recipe file
  --fuel      fuel for efficiency and excess air (default no2): ${fuelIds}
  --co2-max   CO2max of the fuel, %vol dry, instead of what its analysis gives
  --air-c     air temperature, degC, when the instrument sends none
  --rate      lines per second, for files without a time column (default 1)
  --samples   prints every sample, too
  --gas       prints gas readings (O2 and CO settled), too
  --teach     writes what the run has taught of the appliance
  --taught    begins with what an earlier run has taught
  --json      one JSON object per line; t_s counts from the first line`,
  summary: 'Samples, states and readings from a captured text file or run file.',
  nameFile: 'Name a file, or - for standard input.',
  rate: '--rate is between 0 and 1000 lines per second.',
  taughtNothing: 'The run has taught nothing: nothing has changed in it. No file was written.',
};

export const replayTexts = {
  usage: `Usage: flueside replay RUNFILE [--speed X] [--port P [--baud B]] [--json]

Writes the lines of a run file again. Without --speed and --port they are written at once; else at their own pace, X times as fast
(0.1 to 1000, default 1).`,
  summary: 'Write the lines of a run file again, to standard output or to a port.',
  nameRunFile: 'Name a run file.',
  speed: '--speed must be from 0.1 to 1000.',
  baud: '--baud has no such value.',
};

export const runTextTexts = {
  total: (
    tape: string | number,
    lines: string | number,
    understood: string | number,
    rejected: string | number,
    ignored: string | number,
    readings: string | number,
    damaged: string | number,
  ) => `${tape}${lines} lines: ${understood} understood, ${rejected} not, ${ignored} ignored; ${readings} full readings${damaged}.`,
};

export const simulateTexts = {
  usage: (defaultScenario: string | number, lineShapes: string | number, defaultSeconds: string | number) =>
    `Usage: simulate [--scenario NAME|FILE] [--shape SHAPE] [--seed N] [--rate HZ] [--seconds N] [--speed X] [--port P [--baud B]] [--orders] [--json]
       simulate --list

Writes the lines of an instrument at a simulated burner: to standard output, or to a serial port so that this computer acts as the instrument.
Without --speed and --port the lines are written at once; with --speed X they come X times faster than real time.

  --scenario   a name from --list, or a scenario file (default ${defaultScenario})
  --shape      ${lineShapes} (default columns)
  --seed       which burner of its kind, a whole number (default 1)
  --rate       lines per second, 0.5 to 10 (default 1)
  --seconds    burner time to write (default ${defaultSeconds}; with --port until Ctrl-C)
  --orders     reads changes from standard input while it runs: shutter 4.5 | purge on | inlet co-400 | fouling 1.15 over 300`,
  summary: 'Write the lines of a simulated burner, to standard output or to a port.',
  outside: (name: string | number, value: string | number, low: string | number, high: string | number) =>
    `--${name} must be ${value}from ${low} to ${high}.`,
  noShape: (text: string | number, lineShapes: string | number) => `There is no shape "${text}"; the shapes are ${lineShapes}.`,
  noScenario: (name: string | number) => `There is no scenario and no file "${name}"; simulate --list shows the names.`,
};
