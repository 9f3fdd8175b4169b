/** What the desktop app says outside its page: dialogs, menus, the words printed when it cannot start. */
export const desktop = {
  name: 'Flueside',
  closing: {
    message: 'A run is being measured.',
    detail: 'Closing the window ends the run. Everything measured so far is saved.',
    stay: 'Keep measuring',
    end: 'End the run and close',
  },
  saveTitle: 'Save file',
  openTitle: 'Open a run or a recipe',
  openKinds: 'Flueside runs and recipes',
  notSaved: (fileName: string) => `${fileName} was not saved.`,
  notSavedDetail: 'Save it again, in another folder if the disk is full or read-only.',
  cannotOpen: (fileName: string) => `${fileName} could not be opened.`,
  runAdded: (fileName: string, wasHere: boolean) =>
    wasHere ? `The run in ${fileName} is already under Records.` : `The run in ${fileName} was added to Records.`,
  recipeAdded: (name: string) => `The recipe "${name}" was added. Choose it on the start screen.`,
  printTooSlow: (seconds: number) => `Printing took longer than ${seconds} s and was stopped.`,
  cannotStart: 'Flueside cannot start.',
  noSandbox: {
    message: 'This system does not let Flueside protect its window.',
    detail:
      'The window would run without its sandbox. Better: install the .deb package instead of the AppImage, which sets this up, or allow user namespaces on this computer.',
    quit: 'Quit',
    goOn: 'Start without the sandbox this once',
  },
  unknownOption: (word: string, meant: string | undefined) =>
    meant === undefined ? `There is no option ${word}.` : `There is no option ${word}. Did you mean ${meant}?`,
  browserOnly: (option: string) => `${option} is for the browser window only. Start with --browser to use it.`,
  missingValue: (option: string) => `${option} needs a value.`,
  noStandardInput: 'The installed app on Windows cannot read standard input. Give a file name instead of "-".',
  menu: {
    file: 'File',
    open: 'Open run or recipe...',
    recent: 'Recent files',
    noRecent: 'No files opened yet',
    dataFolder: 'Show data folder',
    edit: 'Edit',
    view: 'View',
    window: 'Window',
  },
} as const;
