/** Second lines of problems and other sentences that the host says. */
export const officeTexts = {
  notOurFile: (officeFile: string | number) => `${officeFile} is not a file of Flueside.`,
  damagedFile: (officeFile: string) => `${officeFile} is damaged.`,
  folderNotThere: (folder: string) => `The folder ${folder} is not there, or its share is not connected.`,
  notAFolder: (folder: string) => `${folder} is a file, not a folder.`,
  folderFails: (folder: string, code: string) => `The folder ${folder} does not answer (${code}).`,
  noFolderNamed: 'No folder is named.',
  nameWholePath: 'Name the whole path of the folder.',
  nameServerAndUser: 'Name the server and the user.',
  otherComputer: (host: string | number) => `${host} is another computer.`,
  certificateUnreadable: (file: string) => `The certificate file ${file} cannot be read.`,
  noCertificateIn: (file: string) => `The file ${file} has no certificate in it (PEM text).`,
  selfSigned: 'The server signed its certificate itself, and this computer was not told to trust it.',
  otherName: (host: string) => `The certificate is for another name than ${host}.`,
  expired: 'The certificate has expired, or this computer’s clock is wrong.',
  noServerAt: (host: string, port: number) => `Nothing answers at ${host}, port ${port}.`,
  noHost: (host: string) => `No computer called ${host} was found.`,
  noDatabase: (database: string) => `The server has no database ${database}.`,
  databaseHasNone: (database: string) => `The database ${database} has no office in it.`,
  initAsOwner: 'Only the owner of the database can start or update an office: name that user.',
};

export const reportTexts = {
  visitUnreadable: 'A visit cannot be read.',
  noPdf: 'No PDF came out.',
  exportFewer: 'Export fewer visits at a time, or make a backup.',
  mostVisits: (most: string | number) => `At most ${most} visits at a time.`,
};

export const photoTexts = {
  noName: 'The id of this visit makes no file name.',
};

export const runsTexts = {
  replayEnds: 'A replay is not gone on with.',
  exportUnderWay: 'This export is under way already.',
  notSimulated: 'This run is not simulated.',
  noSuchMark: 'There is no such mark.',
  notTyped: 'Values are typed into a run from the display only.',
  notReplay: 'This run is not a replay.',
  resultsLeftAside: (why: string | number) => `kept results of a run left aside: ${why}`,
  resultsOfOther: 'the run, the settings or the program are others',
  resultsNotKept: (value: string | number) => `results of a run could not be kept: ${value}`,
  recipeAsksNothing: 'This recipe asks nothing.',
  otherBytes: 'These are not the bytes that the recipe sends.',
  runGoesOn: 'This run goes on; use the recipe from now on.',
  noPort: 'This source has no port.',
  nothingAsked: 'Nothing was asked.',
  noChannelLeft: 'No channel is left.',
  nothingToCompare: 'There is nothing to compare.',
  recipeTooLong: 'The file is too long for a recipe.',
  notJson: 'The file is no JSON.',
  replayed: 'REPLAYED DATA - not a measurement of today',
  draftBreech: (breechPa: string | number) => `Draft at the breech ${breechPa} Pa`,
  noHeader: 'It has no header.',
};

export const lineReportTexts = {
  header: 'Names of the columns.',
  units: 'Units of the columns.',
  echo: 'An echo of a command.',
  firstLine: 'The first line after connecting may be cut, so it is not used.',
  otherLine: 'Another kind of line.',
  late: 'An answer that came too late, so it is not used.',
  double: 'The same answer a second time, so it is not used.',
  unasked: 'Nothing was asked, so it is not used.',
  waits: 'Waiting for a recipe.',
};

export const shellTexts = {
  nothingHere: 'There is nothing here.',
  fileMissing: 'A file is missing.',
  onlyGet: 'Only GET is answered.',
};

export const sourceTexts = {
  noLineShape: (shape: string | number) => `There is no line shape "${shape}".`,
};

export const storeTexts = {
  applianceUnreadable: (value: string | number) => `Appliance ${value} cannot be read.`,
  noList: 'Its list of files cannot be read.',
  otherFiles: 'Files are missing or were added.',
  otherContents: (name: string | number) => `'${name}' is not what was backed up.`,
  noRecords: 'It holds no records.',
  unreadable: (kind: string | number, value: string | number) => `${kind} ${value} cannot be read.`,
  otherVersion: (version: string | number, latestVersion: string | number) =>
    `It has version ${version}; this Flueside knows ${latestVersion}.`,
  otherTables: 'Its tables are not the ones that Flueside made.',
  stillOpening: 'The records are still being opened.',
  benchByCommands: 'A bench test is changed by bench commands only.',
  knowledgeByRuns: 'What is known of an appliance comes from its runs only.',
  visitUnreadable: (value: string | number) => `Visit ${value} cannot be read.`,
  unpacksTooBig: 'It would unpack to more than any file of this kind holds.',
};

export const transportTexts = {
  nothingHere: 'There is nothing here.',
  otherAddress: 'This address is not of this computer.',
  onlyOurWindow: 'Only a window of Flueside may connect.',
  onlyThreeMethods: 'Only GET, HEAD and POST are answered.',
  notBuilt: 'The window is not built: npm run build',
  downloadByGet: 'A download is fetched with GET.',
  wrongSecret: 'The secret is wrong.',
  nothingShown: 'Nothing was shown within 2 s.',
};

export const visitsTexts = {
  knowledgeUnreadable: 'What is known of this appliance cannot be read; it is left aside.',
  followsFromRuns: (value: string | number) => `${value} follows from the runs.`,
};
