/** What the commands on visits and the office say. */
export const adviseTexts = {
  usage: `Usage: flueside advise FILE|- [--json]

One visit a line in, one answer a line out, as JSON. In:
  {"id", "fuel", "flame": "yellow"|"blue",
   "adjusters": [{"name", "kind": "air"|"head"|"draft"|"other", "min", "max", "step", "more_air": "up"|"down"}],
   "trials": [{"setting": {NAME: position}, "o2_pct", "co_ppm", "smoke", "oil", "settled"}],   oldest first
   "as_left": index or null, "alarm_co_air_free_ppm", "o2_floor_pct", "smoke_limit", "room_co_ppm",
   "safety": [{"test", "result": "pass"|"fail"|"na"|"open"}], "bypass_in_place"}
Out:
  {"id", "advice": "less-air"|"more-air"|"leave"|"stop"|"none", "adjuster", "from", "to", "aim_o2_pct": [low, high],
   "words", "safe": "yes"|"no"|"unknown", "because": [keys]}

What is not known is null, and nothing is taken for granted: a reading counts as settled where it says so. A line that cannot be read gives {"id", "problem"}, and the next one follows.
Flueside advises. Local code and the burner maker's instructions come first.`,
  summary: 'what Tune says of a visit: JSON lines in, JSON lines out',
  nameFile: 'Name a file, or - for standard input.',
  lineNotJson: 'This line is not JSON.',
};

export const geometryTexts = {
  usage: `Usage: flueside geometry [CARD.json] --measured SHEET.json [--json]

  CARD.json       a figures card: the burner maker's figures, as typed from the maker's sheet;
                  without one everything is shown as measured and nothing is judged
  --measured      a set-up sheet: lengthUnit, burner (tubeEnd, head, arrangement, nozzleFlow), measured, changed
  --json          one JSON object: a verdict and a direction for each figure, and what is stale

A figure that the card lacks is shown as measured and never judged; so is one where the card contradicts itself, and the exit code is 1 then.
A nozzle flow without a unit is taken in the card's. Fractions are inches: in a sheet in mm they need "in" behind them.
The burner maker's instructions come first.`,
  summary: 'electrodes, nozzle and head as measured against the maker’s figures',
  tooBig: (file: string): string => `${file} is bigger than any card or sheet (1 MB).`,
  notJson: (file: string): string => `${file} is not JSON.`,
  nameSheet: 'Give --measured SHEET.json, and a figures card to judge it by.',
};

export const officeTexts = {
  usage: `Usage: flueside office init   PLACE [--name NAME] [--add-laptop USER] [--json]
       flueside office push   [PLACE] [--all] [--json]
       flueside office pull   [PLACE] [--json]
       flueside office status [PLACE] [--json]
       flueside office check  [PLACE] [--json]

Shares visits between the laptops of a workshop. PLACE is a folder that all of them can open, or a PostgreSQL server (15 or newer):

  --folder DIR
  --server HOST[:PORT] --user USER [--database NAME] [--certificate FILE] [--no-tls]

Without PLACE, the office in Settings is used. The password is read from FLUESIDE_OFFICE_PASSWORD, else asked for. --certificate names the file that the
server's own certificate is checked against; --no-tls is for a server on this same computer only.

  init    begins an office, or brings one up to date; on a server as the owner of the database. --add-laptop makes a user that may add and read
  push    sends what waits on this computer; --all sends everything again (what is there already stays single)
  pull    takes everything that is new in the office
  status  what the office has, and what waits here
  check   looks through everything in the office: every text against its hash

--data DIR uses the records in that folder.`,
  summary: 'Shares visits between the laptops of a workshop.',
  sayWhat: (verbs: string | number) => `Say what to do: ${verbs}.`,
  badPort: (port: string) => `${port} is no port. Give a number from 1 to 65535.`,
  folderOrServer: 'Give --folder or --server, not both.',
  nameUser: 'Name the user with --user.',
  sayWhere: 'Say where with --folder or --server.',
  folderHasNoUsers: 'A folder has no users; its own rights say who may open it.',
};

export const reportTexts = {
  usage: `Usage: flueside report VISIT --out DIR [--paper a4|letter] [--form pdf,html,csv,json] [--units us|metric]
                       [--part report,owner,label] [--annex] [--compare VISIT,...] [--data DIR] [--json]
       flueside report --schema

Writes the report of a visit into DIR. VISIT is its number or its id. The PDF is printed by an installed browser of the Chromium family;
without one the HTML is written instead, and that is said.

  --paper    letter (default in US units) or a4
  --form     which files, separated by commas (default pdf)
  --units    other units than those of the visit
  --part     the report, the owner's page by itself, the card that hangs at the burner (default report)
  --annex    the report with every edit and every acknowledged caution behind it
  --compare  one sheet as well that sets these visits beside VISIT, each as it was left
  --schema   prints the JSON Schema of the JSON form
  --json     prints what was written as one JSON object`,
  summary: 'The report of a visit as PDF, HTML, CSV and JSON.',
  noRecords: (folder: string | number) => `There are no records in ${folder}.`,
  nameVisit: 'Name a visit by its number or its id.',
  sayWhere: 'Say where to write with --out DIR.',
  compare: '--compare takes visit numbers with commas between them.',
  noVisit: (wanted: string | number) => `There is no visit ${wanted}.`,
};
