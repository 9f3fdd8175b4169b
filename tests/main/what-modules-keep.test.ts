/**
 * What the host keeps, an instance keeps: a module that remembered something would carry it from one app into the next of the same process (tests, and two
 * data folders in one program). So does what the window keeps. The tests of both share a world because of this.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';
import { expect, it } from 'vitest';

const root = join(import.meta.dirname, '..', '..');

/** Entries of a process begin it and end it, and nothing imports them. */
const entries = /^(?:main\/(?:electron|cli|node|[a-z-]+-thread)\.ts|renderer\/main\.tsx)$/;

/** What does remember, and why that is the same for every instance. */
const known: Record<string, string> = {
  'main/background/jobs.ts reportRuns': 'by data folder',
  'main/commands/capture.ts command': 'joined with the real ports, keeps nothing',
  'main/commands/ports.ts command': 'joined with the real ports, keeps nothing',
  'main/commands/replay.ts command': 'joined with the real ports, keeps nothing',
  'main/commands/simulate.ts command': 'joined with the real ports, keeps nothing',
  'main/report/fonts.ts known': 'the files of the fonts, which lie beside the program',
  'main/runs/stored/stored-answers.ts opened': 'by folder of runs and settings',
  'main/store/open.ts expected': 'what the steps of the records make, by version',
  'main/transport/send-queue.ts texts': 'what a message is as text, gone with the message',
  'renderer/app-parts.ts AppContext': 'keeps nothing itself',
  'renderer/components/Later.tsx failed': 'parts whose script could not be fetched, of this page',
  'renderer/components/Later.tsx loaders': 'which parts come later',
  'renderer/components/use-escape.ts open': 'what is open on the page; a part takes itself out when it closes',
  'renderer/fields/wrong-fields.ts WrongFields': 'keeps nothing itself',
  'renderer/state/selectors.ts noHints': 'always empty',
  'renderer/state/selectors.ts noTrials': 'always empty',
  'renderer/views/bench/bench-screen.ts screens': 'by window, and gone with it',
  'renderer/views/visit/safety/use-stopwatch.ts none': 'always empty',
  'main/source/list-ports.ts listOnce': 'the ports of this computer, while the system shows the same ones',
};

const isEmpty = (value: ts.Expression): boolean =>
  (ts.isArrayLiteralExpression(value) && value.elements.length === 0) ||
  (ts.isObjectLiteralExpression(value) && value.properties.length === 0) ||
  (ts.isNewExpression(value) && (value.arguments ?? []).length === 0) ||
  (ts.isCallExpression(value) && /^(?:create|make|open|start)[A-Z]/.test(value.expression.getText()));

/** @returns names of a file's own variables that can change: those not constant, empty collections, and what a maker made */
function keptBy(text: string, path = 'file.ts'): string[] {
  const source = ts.createSourceFile(path, text, ts.ScriptTarget.Latest, true);
  return source.statements.flatMap((statement) => {
    if (!ts.isVariableStatement(statement)) return [];
    const { flags, declarations } = statement.declarationList;
    const isConstant = (flags & ts.NodeFlags.Const) !== 0;
    return declarations
      .filter(({ initializer }) => !isConstant || (initializer !== undefined && isEmpty(initializer)))
      .map(({ name }) => name.getText());
  });
}

it('no module of host and window remembers anything but what is the same for every instance', () => {
  const files = ['main', 'renderer'].flatMap((room) =>
    readdirSync(join(root, room), { recursive: true, encoding: 'utf8' })
      .map((path) => `${room}/${path.replaceAll('\\', '/')}`)
      .filter((path) => /\.tsx?$/.test(path) && !entries.test(path)),
  );
  expect(files.length).toBeGreaterThan(400);
  const kept = files.flatMap((path) => keptBy(readFileSync(join(root, path), 'utf8'), path).map((name) => `${path} ${name}`));
  expect(kept.sort()).toEqual(Object.keys(known).sort());
});

it.each(['let last = 0;', 'const seen = new Map<string, number>();', 'const waiting: string[] = [];', 'const ports = createPortList({});'])(
  'finds %s',
  (text) => {
    expect(keptBy(text)).toHaveLength(1);
  },
);

it('takes a table for what it is', () => {
  expect(
    keptBy("const table = new Map([['a', 1]]); const words = { a: 1 }; const least = 3; function f() { let own = 0; return own; }"),
  ).toEqual([]);
});
