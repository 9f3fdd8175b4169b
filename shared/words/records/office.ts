/** What the office of a workshop says: settings, Records and the command line. */

const many = (count: number, one: string, more: string): string => `${count} ${count === 1 ? one : more}`;
const kinds: Readonly<Record<string, [string, string]>> = {
  visit: ['signed visit', 'signed visits'],
  appliance: ['state of an appliance', 'states of appliances'],
  instrument: ['state of an instrument', 'states of instruments'],
  'bench-test': ['bench test', 'bench tests'],
  'figures-card': ['figures card', 'figures cards'],
  knowledge: ['set of known constants', 'sets of known constants'],
  tombstone: ['removal of personal details', 'removals of personal details'],
};
const clockOff = (aheadMs: number): string => {
  const hours = Math.abs(aheadMs) / 3_600_000;
  const much = hours < 1 ? `${Math.round(hours * 60)} min` : hours < 48 ? `${Math.round(hours)} h` : `${Math.round(hours / 24)} days`;
  return `The office's clock is ${much} ${aheadMs > 0 ? 'ahead of' : 'behind'} this computer's. Check the date and time of both: visits carry them.`;
};
const size = (bytes: number): string => (bytes < 1e5 ? `${(bytes / 1e3).toFixed(1)} kB` : `${(bytes / 1e6).toFixed(1)} MB`);

const wrongWhy = {
  foreign: 'not written by Flueside',
  newer: 'written by a newer Flueside, left as it is',
  damaged: 'cannot be read',
  hash: 'changed after it was written',
  'no-access': 'may not be opened by this user, left as it is',
} as const;

export const officeWords = {
  title: 'Office',
  about:
    'Shares signed visits, appliances and instruments with the other laptops of your workshop. Without an office nothing leaves this computer.',
  joining:
    'Everything signed here so far is sent too. What is signed stays in the office; personal details can be removed from appliances later.',
  kind: 'Office',
  kinds: { none: 'none', folder: 'shared folder', postgres: 'database server' },
  folder: 'Folder, whole path',
  folderHint: 'One that all laptops can open. Start one with: flueside office init --folder PATH',
  host: 'Server',
  port: 'Port',
  badPort: (typed: string): string => `Port: type a number from 1 to 65535 instead of "${typed}".`,
  database: 'Database',
  user: 'User',
  certificate: 'Certificate file of the server',
  certificateHint: 'Leave empty if the system trusts the server already.',
  withoutTls: 'The server is on this same computer and has no TLS',
  takesAll: 'Take everything from the office, not only appliances opened here',
  password: 'Password',
  passwordKept: 'Saved in the keychain of this system.',
  passwordSession: 'Asked once each time Flueside starts. It is not saved.',
  test: 'Test the office',
  testing: 'Testing ...',
  use: 'Use this office',
  stop: 'Leave the office',
  sync: 'Send and fetch now',
  tested: (name: string, items: number, aheadMs: number | undefined): string =>
    [`The office "${name}" answers. It has ${many(items, 'item', 'items')}.`, aheadMs === undefined ? '' : clockOff(aheadMs)]
      .filter(Boolean)
      .join(' '),
  phases: {
    off: 'No office.',
    'asks-password': 'Type the password of the office.',
    waiting: 'The office does not answer. Everything is saved here and will be sent later.',
    busy: 'Sending and fetching ...',
    ready: 'The office is up to date.',
    failed: 'The office cannot be used now. Everything is saved here.',
  },
  queued: (count: number): string =>
    count === 0 ? 'Nothing waits to be sent.' : `${many(count, 'entry waits', 'entries wait')} to be sent.`,
  last: (when: string): string => `Last sent and fetched: ${when}.`,
  wrong: (count: number): string =>
    `${many(count, 'item', 'items')} in the office could not be used and ${count === 1 ? 'was' : 'were'} left out.`,
  clockOff,
  // Records
  section: 'In the office',
  sectionAbout: 'Records sent by other laptops. They are not on this computer until you take them.',
  search: 'Place, owner, serial number or number of a visit',
  dueBefore: 'Due before',
  searchNow: 'Search the office',
  noneFound: 'The office has nothing that matches.',
  isHere: 'On this computer',
  isThere: 'Only in the office',
  take: 'Take it here',
  look: 'Open',
  visits: (count: number): string => many(count, 'visit', 'visits'),
  lastSeen: (day: string): string => `last visit ${day}`,
  due: (day: string): string => `due ${day}`,
  fetch: 'Fetch from the office',
  fetched: (visits: number, day: string | undefined): string =>
    visits > 0
      ? `${many(visits, 'visit', 'visits')} of other laptops came${day === undefined ? '' : `; last seen by another laptop on ${day}`}.`
      : 'The office has nothing newer of this appliance.',
  conflicts: 'Changed on two laptops',
  conflictsAbout: 'Both values are saved. Choose which one counts.',
  conflictHere: 'Here',
  conflictThere: 'Other laptop',
  keepHere: 'Use the one from here',
  takeThere: 'Use the other one',
  seen: 'I have seen this',
  counts: 'counts now',
  noConflicts: 'No conflicts.',
  empty: 'empty',
  wholeThing: 'the whole entry',
  conflictKinds: {
    visit: 'Visit',
    appliance: 'Appliance',
    instrument: 'Instrument',
    'figures-card': 'Figures card',
    'bench-test': 'Bench test',
  } as Readonly<Record<string, string>>,
  visitTwice: 'This visit was signed twice, or is open here and signed elsewhere. The one from here stays.',
  signedStays: 'The office keeps signed visits as they are, too: the law may ask for them. Their text may still name the person.',
  // command line
  cli: {
    asksPassword: (user: string): string => `Password of ${user}: `,
    begun: (name: string, place: string): string => `The office "${name}" was started at ${place}.`,
    already: (place: string): string => `There is an office at ${place} already. Nothing was changed.`,
    updated: (place: string, from: number, to: number): string => `The office at ${place} was brought from version ${from} to ${to}.`,
    laptop: (user: string, password: string): string =>
      `User for a laptop: ${user}\nIts password, shown only now: ${password}\nIt may add and read; it can change or delete nothing.`,
    pushed: (sent: number, same: number): string => `Sent: ${sent}. There already: ${same}.`,
    unreadable: (count: number): string =>
      `${many(count, 'entry', 'entries')} could not be sent and still ${count === 1 ? 'waits' : 'wait'}.`,
    pulled: ({ added, merged, removed, apart }: { added: number; merged: number; removed: number; apart: number }): string =>
      `New: ${added}. Merged: ${merged}. Personal details removed: ${removed}. For you to decide: ${apart}.`,
    status: (name: string): string => `Office: ${name}`,
    item: (kind: string, count: number): string => `  ${many(count, ...(kinds[kind] ?? [kind, kind]))}`,
    size: (bytes: number): string => `  ${size(bytes)}`,
    queued: (count: number, conflicts: number): string => `This computer: ${count} to send, ${conflicts} for you to decide.`,
    checked: (items: number): string => `${many(items, 'item', 'items')} looked through: every hash holds.`,
    checkedWrong: (items: number, wrong: number): string =>
      `${many(items, 'item is', 'items are')} right, ${wrong} ${wrong === 1 ? 'is' : 'are'} not:`,
    wrong: (name: string, why: 'foreign' | 'newer' | 'damaged' | 'hash' | 'no-access', isSetAside = false): string =>
      `  ${name}: ${wrongWhy[why]}${isSetAside ? ' (moved into "set-aside")' : ''}`,
    sendAgain: 'Whoever has the original of what was moved sends it again with: flueside office push --all',
    serverWrong:
      'They are left out by every laptop. Ask who runs the server to look at these rows: laptops cannot change them, and Flueside did not.',
  },
} as const;
