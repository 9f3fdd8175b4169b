/** Copies of the records: made, restored, taken in. */

export const copiesWords = {
  title: 'Copies in the data folder',
  about:
    'Each holds everything as it was then, including owner details and visits that were deleted since. Delete what you no longer need. Copies on other disks are yours to look after.',
  none: 'There are no copies.',
  columns: { what: 'what', made: 'made', size: 'size' },
  kinds: {
    backup: 'Backup',
    'before-restore': 'What a restore replaced',
    'before-update': 'Records before an update',
    damaged: 'Damaged records, set aside',
  },
  restore: 'Restore',
  restoreOf: (name: string): string => `Restore ${name}`,
  remove: 'Delete',
  removeOf: (name: string): string => `Delete ${name}`,
  sure: (kind: string): string => `Delete this copy: ${kind.toLowerCase()}?`,
  sureAbout: (name: string): string => `${name} is deleted for good. The records themselves stay as they are.`,
} as const;

export const keepingWords = {
  title: 'Backup, moving and storage',
  backup: 'Backup',
  backupAbout:
    'One zip with all visits, appliances, instruments, runs, recipes and settings. Flueside reads it back and compares it before you get it. Keep it on another disk.',
  makeBackup: 'Make a backup',
  making: 'The backup is being made and read back.',
  made: (name: string): string => `${name} is ready.`,
  restore: 'Restore',
  restoreAbout: 'Replaces what is here by a backup. What is here now is first moved to a folder of its own, and you are told its name.',
  chooseBackup: 'Choose a backup',
  restoreSure: 'Restore this backup?',
  restoreSureAbout: (name: string): string =>
    `Everything in the records is replaced by what ${name} holds. What is here now is saved in a folder beside it.`,
  yesRestore: 'Restore',
  restoring: 'The backup is being unpacked and checked.',
  restored: (files: number, kept: string): string => `${files} files were restored. What was here before is in the folder ${kept}.`,
  move: 'Another computer',
  moveAbout:
    'Visits that were exported on another computer are added to those here. What is here already is skipped; what differs is added as a copy. Nothing is overwritten.',
  chooseVisits: 'Add visits from a file',
  movedIn: (count: {
    added: number;
    same: number;
    corrected: number;
    copies: number;
    refused: number;
    appliances: number;
    instruments: number;
    runs: number;
  }): string => {
    const parts = [
      `${count.added === 0 ? 'No visit was' : count.added === 1 ? 'One visit was' : `${count.added} visits were`} added`,
      count.runs === 0 ? undefined : `${count.runs} run ${count.runs === 1 ? 'file' : 'files'} came with them`,
      count.instruments === 0
        ? undefined
        : `${count.instruments === 1 ? 'one instrument' : `${count.instruments} instruments`} came with them`,
      count.same === 0 ? undefined : `${count.same} ${count.same === 1 ? 'was' : 'were'} here already`,
      count.corrected === 0 ? undefined : `corrections were added to ${count.corrected}`,
      count.copies === 0
        ? undefined
        : `${count.copies} differed and ${count.copies === 1 ? 'was' : 'were'} added as ${count.copies === 1 ? 'a copy' : 'copies'}`,
      count.refused === 0
        ? undefined
        : `${count.refused} ${count.refused === 1 ? 'was' : 'were'} refused: not readable, or not what was signed`,
    ].filter((part) => part !== undefined);
    return `${parts.join('; ')}.`;
  },
  tooBig: 'This file is too big for this window. Export fewer visits at a time, or make a backup and restore that.',
  diskFull: 'There is not enough free space for this file. Free some space, then try again.',
  failed: 'The file was not received. Try again.',
  folder: 'Where everything is saved',
  folderAbout: 'Runs are plain text files; records are one SQLite file.',
  retention: 'How long to keep',
  retentionAbout: [
    'Look up the rule that applies here: it comes first. Rules differ by place and by kind of plant.',
    'For liability it is common practice to keep records as long as the warranty or the local limitation period, six to ten years.',
    'A person may ask for their details to be removed: “Remove owner details” keeps the machine’s history. Training records need no address at all.',
    'Nothing is deleted by itself.',
  ],
} as const;
