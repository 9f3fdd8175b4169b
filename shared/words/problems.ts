import type { Problem, ProblemCode } from '../problem.ts';

/**
 * What happened, in the user's words, and a next step that can be done now. Rows are added here and nowhere else, sorted by topic.
 */
export const problems = {
  // window and host
  'request-invalid': {
    title: 'This request was not understood.',
    nextStep: 'Nothing was changed. Reload the window; if it happens again, restart Flueside.',
  },
  internal: {
    title: 'Flueside made a mistake. It is written in the log.',
    nextStep: 'Try again. If it stays, restart Flueside and save a report for support in Settings.',
  },
  'not-allowed': { title: 'View only: another window has the controls.', nextStep: 'Take over the controls first.' },
  'wire-closed': { title: 'The connection to Flueside was lost.', nextStep: 'The run goes on by itself. Reload this window.' },
  'link-used': {
    title: 'This link was used before, or belongs to an earlier start.',
    nextStep: 'Start Flueside again: it opens its window, or prints a new address.',
  },
  'key-unknown': {
    title: 'Flueside was started anew since this window was opened.',
    nextStep: 'Close this window and start Flueside again: it opens a window, or prints a new address.',
  },
  'too-many-windows': { title: 'Too many windows are open.', nextStep: 'Close one of them, then try again.' },
  'too-fast': { title: 'This window asks faster than Flueside answers.', nextStep: 'Nothing was changed. Try again in a moment.' },
  'message-too-big': { title: 'This is more than one message may carry.', nextStep: 'Nothing was changed. Send less at a time.' },
  'download-gone': { title: 'This download was fetched already, or has expired.', nextStep: 'Export it again.' },
  'export-stopped': { title: 'The export was stopped.', nextStep: 'Nothing was kept of it. Export it again when you want it.' },
  'settings-damaged': {
    title: 'The settings file was damaged and was set aside.',
    nextStep: 'The settings start from the printed ones; set yours again.',
  },
  'folder-copied': {
    title: 'The data folder is kept in step with a server by another program.',
    nextStep: 'It may lock files while a run is written. Choose a folder of this computer with --data.',
  },
  // sources
  'port-busy': {
    title: 'Another program is using this serial port.',
    nextStep: 'Close that program or choose another port, then connect again.',
  },
  'port-no-permission': {
    title: 'This account may not open the serial port.',
    nextStep: 'See "Serial permissions" in the README, then connect again.',
  },
  'port-not-found': { title: 'There is no such serial port.', nextStep: 'Plug the instrument in, or check the name of the port.' },
  'port-settings': { title: 'The port does not accept these settings.', nextStep: 'Choose another speed or framing.' },
  'port-lost': {
    title: 'Plug the instrument back in.',
    nextStep: 'Flueside reconnects by itself when it is back. The run goes on with a gap.',
  },
  'port-gone': { title: 'The serial port went away.', nextStep: 'Plug the cable in again, then start this command once more.' },
  'port-other-device': {
    title: 'Another device is at this port now.',
    nextStep: 'If it is the right one, choose it; otherwise plug the instrument back in.',
  },
  'source-silent': { title: 'The instrument has stopped sending.', nextStep: 'Check that it is on and measuring, then its cable.' },
  'run-not-found': { title: 'There is no such run.', nextStep: 'Choose another run from the list.' },
  'run-limit': { title: 'Four runs are already under way.', nextStep: 'End one of them first.' },
  'run-ended': { title: 'This run has ended.', nextStep: 'Start a new run.' },
  'no-samples': { title: 'There is nothing to take yet.', nextStep: 'Wait for the first values, or type them from the display.' },
  // run files
  'file-not-found': { title: 'There is no such file.', nextStep: 'Check the name.' },
  'file-damaged': { title: 'This file is damaged.', nextStep: 'What could be read was kept; the file itself was not changed.' },
  'figures-file-wrong': {
    title: 'This is not a figures card or set-up sheet that can be read.',
    nextStep: 'Mend what is named here, then try again. Nothing was changed.',
  },
  'file-exists': { title: 'There is a file of this name already.', nextStep: 'Choose another name, or move that file away.' },
  'file-foreign': {
    title: 'This is not a file of Flueside.',
    nextStep: 'Choose what Flueside made: a run file, exported visits or a backup. A run may also be plain text, one line per reading.',
  },
  'file-newer': { title: 'This file comes from a newer Flueside.', nextStep: 'Update Flueside, then open it again.' },
  'file-too-big': { title: 'This file is too big to take in here.', nextStep: 'Use the command line, which has no such limit.' },
  'photo-foreign': { title: 'This is not a photo that can be read.', nextStep: 'Choose a JPEG or PNG file.' },
  'photo-too-big': { title: 'This photo is too big.', nextStep: 'Make it smaller, then choose it again.' },
  'photo-too-many': { title: 'This visit has as many photos as it can hold.', nextStep: 'Take one out first.' },
  'disk-full': {
    title: 'The disk is full.',
    nextStep: 'Free some space now. Until then lines are kept in memory and in a file in the temporary folder.',
  },
  'disk-failed': { title: 'The disk refused to write.', nextStep: 'Free space or check the disk. Lines are kept in memory meanwhile.' },
  // recipes
  'recipe-invalid': {
    title: 'This line recipe cannot be used.',
    nextStep: 'Correct the part named below, or learn it from the lines again.',
  },
  'recipe-unclear': { title: 'A person has to look at the columns first.', nextStep: 'Answer in the window, or choose a recipe.' },
  'lines-refused': { title: 'These lines cannot be read.', nextStep: 'A recipe can also be named with --recipe, or filled in by hand.' },
  'recipe-not-found': { title: 'There is no such line recipe.', nextStep: 'Choose one from the list, or learn it from the lines.' },
  // combustion
  'value-out-of-range': { title: 'A value is outside what is physically possible.', nextStep: 'Check what was typed or sent.' },
  'value-missing': { title: 'A value that is needed is missing.', nextStep: 'Supply it, or leave this figure blank.' },
  'visit-not-clear': { title: 'This visit is not written as it has to be.', nextStep: 'Mend what is named, and ask again.' },
  'fuel-unknown': { title: 'There is no such fuel.', nextStep: 'Choose one from the list, or give its analysis.' },
  'fuel-analysis': {
    title: 'This fuel analysis cannot be right.',
    nextStep: 'Check that the parts add up to 100 % and that the heating value fits.',
  },
  'fuel-no-density': {
    title: 'This fuel has no liquid density, so a flow in gallons means nothing.',
    nextStep: 'Choose an oil, or give the density.',
  },
  'not-a-number': { title: 'This is not a number.', nextStep: 'Type digits with at most one decimal point or comma, like 4.5 or 4,5.' },
  'two-separators': { title: 'This number has two separators.', nextStep: 'Type it without separating thousands, like 1234.5 or 1234,5.' },
  // store
  'store-locked': { title: 'Flueside is already open on this computer.', nextStep: 'Use the window that is open.' },
  'store-read-only': {
    title: 'The data folder cannot be written.',
    nextStep: 'Choose another folder with --data, or allow writing there.',
  },
  'store-damaged': {
    title: 'The records file was damaged and was set aside.',
    nextStep: 'Restore a backup from Records. New visits are kept in a fresh file.',
  },
  'store-foreign': {
    title: 'The records file belongs to another program and was set aside.',
    nextStep: 'New visits are kept in a fresh file.',
  },
  'store-gone': {
    title: 'The records file was empty although it had been in use.',
    nextStep: 'New visits are saved in a fresh file. Restore a backup from Records, or look in the data folder for what was there.',
  },
  'restore-in-capture': {
    title: 'A backup cannot be restored while a run is captured.',
    nextStep: 'End the run first, then restore. Nothing was changed.',
  },
  'restore-under-way': {
    title: 'A backup is being restored.',
    nextStep: 'Wait until that is done, then try again.',
  },
  'restore-stuck': {
    title: 'A restore was cut off and could be neither finished nor undone.',
    nextStep: 'Close other programs that use the data folder, free some space, then start Flueside again. Nothing is deleted until then.',
  },
  'restore-undone': {
    title: 'The backup was not restored. What was here before is back in its place.',
    nextStep: 'Close other programs that use the data folder, then try again.',
  },
  'store-newer': { title: 'The records come from a newer Flueside.', nextStep: 'Update Flueside. Nothing was changed.' },
  'not-found': { title: 'This entry is not there any more.', nextStep: 'Look it up in Records.' },
  'changed-elsewhere': { title: 'This was changed in another window meanwhile.', nextStep: 'Look at it again, then repeat your change.' },
  'bench-signed': { title: 'This bench test is signed and cannot be changed.', nextStep: 'Test the instrument again instead.' },
  'bench-unsaved': {
    title: 'A bench test could not be saved.',
    nextStep: 'Leave Flueside open: it tries again every two seconds. Free some disk space, or check that the data folder can be written.',
  },
  'bench-not-ready': { title: 'This test cannot start yet.', nextStep: 'Look at what the set-up still asks for.' },
  'bench-no-session': { title: 'This bench test is not running.', nextStep: 'Go on with it from the list of tests.' },
  'bench-other-source': {
    title: 'This bench test goes on at another source than the one it was started with.',
    nextStep: 'Make sure that it is the same instrument. If it is not, stop the test with a reason.',
  },
  'bench-gas-expired': {
    title: 'A gas of this bench test has expired since the test was started.',
    nextStep: 'Stop the test with a reason, then start it anew with another bottle.',
  },
  'bench-open': { title: 'This test still has steps to do.', nextStep: 'Finish the plan or stop it with a reason, then sign.' },
  'bench-not-signable': { title: 'Simulated and replayed tests are never signed.', nextStep: 'Test a real instrument.' },
  'visit-signed': { title: 'This visit is signed and locked.', nextStep: 'Add a correction with a reason instead.' },
  'room-co-now': {
    title: 'CO in the room is measured now, and this visit does not say so.',
    nextStep: 'Get out of the room. Enter what is measured as CO in the room, then sign.',
  },
  'has-visits': { title: 'Visits belong to this appliance.', nextStep: 'Remove the owner details instead, or remove its visits first.' },
  'visit-finished': { title: 'This visit was closed meanwhile.', nextStep: 'Nothing was changed. Look at it in Records.' },
  'visit-not-saved': {
    title: 'The visit is not saved.',
    nextStep: 'Flueside tries again by itself. Keep it running, and free space on the disk or check it.',
  },
  'visit-altered': {
    title: 'This visit is no longer what was signed.',
    nextStep: 'Use the signed report on paper, or restore a backup from before. The hash shows accidents; it is no proof against forgery.',
  },
  'trial-changed': {
    title: 'Another setting was marked meanwhile.',
    nextStep: 'Nothing was saved. Say at which trial it was taken.',
  },
  'watch-time-lost': {
    title: 'The computer slept, or its clock was set, while the stopwatch ran.',
    nextStep: 'How long the test took is not known. Start the test again.',
  },
  'question-gone': { title: 'This question has been answered.', nextStep: 'Nothing was changed.' },
  'bypass-open': {
    title: 'A bypass is in place.',
    nextStep: 'Take the jumper out or plug the detector in, enter it as removed, then sign.',
  },
  'visit-not-safe': {
    title: 'Not safe to leave running: this visit is not signed yet.',
    nextStep: 'Enter that the burner is off and red-tagged, and who was told. Then sign.',
  },
  'visit-not-signable': { title: 'Simulated, replayed and training visits are never signed.', nextStep: 'Close it as training.' },
  // report
  'no-printer': {
    title: 'No browser of the Chromium family is installed, so there is no PDF.',
    nextStep: 'Open the HTML file in any browser and print it from there.',
  },
  'print-failed': { title: 'The report could not be printed.', nextStep: 'Try again, or save it as HTML and print that from a browser.' },
  // office
  'office-off': { title: 'No office is set.', nextStep: 'Choose one in Settings, or name it: flueside office --help says how.' },
  'office-none': {
    title: 'There is no Flueside office at this place.',
    nextStep: 'Check the place, or start an office there with: flueside office init',
  },
  'office-newer': {
    title: 'The office was made by a newer Flueside.',
    nextStep: 'Update Flueside on this computer. Nothing was sent or taken.',
  },
  'office-older': {
    title: 'The office was made by an older Flueside.',
    nextStep: 'Run flueside office init on the office computer: it brings the office up to date and loses nothing.',
  },
  'office-server-old': { title: 'The database server is older than version 15.', nextStep: 'Update PostgreSQL to version 15 or newer.' },
  'office-unreachable': {
    title: 'The office cannot be reached.',
    nextStep: 'Go on with your work: everything is saved here and is sent when the office is back. Check the network and the address.',
  },
  'office-password': {
    title: 'The office refused this user or password.',
    nextStep: 'Type the password again, or ask who runs the office.',
  },
  'office-asks-password': {
    title: 'The office asks for a password.',
    nextStep: 'Type it in Settings, or give it to a command in FLUESIDE_OFFICE_PASSWORD. It is never written into a settings file.',
  },
  'office-certificate': {
    title: "The office server's certificate is not trusted, so nothing was sent.",
    nextStep: 'Ask who runs the office for its certificate file and name it in Settings. Check that the address is the right one.',
  },
  'office-no-tls': {
    title: 'The office server offers no encrypted connection, so nothing was sent.',
    nextStep: 'Turn TLS on at the server. Only a server on this same computer may be used without it.',
  },
  'office-read-only': {
    title: 'The office cannot be written.',
    nextStep: 'Ask who runs the office to let you write there. What is waiting stays here until then.',
  },
  'office-no-access': {
    title: 'This user may not read the office.',
    nextStep: 'Ask who runs the office to let you read it. Everything is saved here.',
  },
  'office-user-taken': {
    title: 'The server has a user of this name already.',
    nextStep: 'Choose another name for the laptop. The office itself is as it was.',
  },
  'office-full': {
    title: 'The office has no space left.',
    nextStep: 'Free some space there. What is waiting stays here and is sent afterwards.',
  },
  'office-item-wrong': {
    title: 'The office holds something that Flueside did not write, or that was changed.',
    nextStep: 'It was left out. Run flueside office check to see what it is.',
  },
  // command line
  usage: { title: 'The command was not understood.', nextStep: 'Add --help to see how it is used.' },
} as const satisfies Record<ProblemCode, { title: string; nextStep: string }>;

/** One plain line, as the command line prints it. */
export const problemLine = ({ code, detail }: Problem): string =>
  `${problems[code].title}${detail === undefined ? '' : ` ${detail}`} ${problems[code].nextStep}`;
