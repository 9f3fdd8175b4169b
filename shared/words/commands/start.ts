/** What the command line and its start options say. */
export const cliTexts = {
  usage: 'Usage: flueside COMMAND [OPTIONS]   (add --help to a command, --json for one JSON object)',
  noCommand: (name: string | number) => `There is no command "${name}".`,
};

export const optionTexts = {
  givenTwice: (name: string | number) => `--${name} was given twice.`,
  notExpected: (extra: string | number) => `"${extra}" was not expected.`,
  noOption: (option: string | number) => `There is no option ${option}.`,
  takesNoValue: (option: string | number) => `${option} takes no value.`,
  needsValue: (option: string | number) => `${option} needs a value.`,
};

export const nodeOptionTexts = {
  usage: `Usage: npm start -- [OPTIONS]
  --data DIR        save everything in DIR
  --source KIND     begin a run with the first window: simulated, typed, a serial port's name, or none
  --simulated       the same as --source simulated
  --speed X         let the host's time run X times as fast (practice and tests; not with an instrument)
  --port N          listen at this port (any free one is used otherwise)
  --no-open         print the address and open nothing
  --as ROLE         open one more window of the Flueside that runs: operator, viewer or instructor
  --linger S        stay S seconds after the last window was closed (30)
  --browser         use a browser window, do not look for Electron
  --electron        try again to fetch Electron, even if that failed lately`,
  speed: '--speed takes a number from 0.1 to 1000.',
  port: '--port takes a whole number up to 65535.',
  linger: '--linger takes seconds, from 0.1 to 86 400.',
  as: '--as takes operator, viewer or instructor.',
  source: '--source takes simulated, typed, none or a port.',
};

export const nodeTexts = {
  heldBy: (pid: string | number, folder: string | number) => `Process ${pid} has ${folder} open.`,
  cannotListen: (port: string | number, message: string | number) => `Flueside cannot listen at port ${port}. ${message}`,
  runGoesOn: (address: string | number) => `The last window was closed; the run goes on. Open it at ${address} or press Ctrl-C to end.`,
  ends: 'The last window was closed: Flueside ends.',
  isAt: (address: string | number, why: string | number, hint: string | number) =>
    `Flueside is at ${address}${why}.${hint} Ctrl-C ends it.`,
  opensBrowser: (why: string | number, address: string | number) =>
    `Flueside opens a browser window${why}; for another one: ${address} Ctrl-C ends it.`,
  browserDidNotOpen: (why: string | number, address: string | number) => `The browser did not open (${why}). Open ${address}`,
  noBrowser: 'No browser of the Chromium family was found: open it in one.',
  openInBrowser: 'Open it in a browser on this computer.',
};
