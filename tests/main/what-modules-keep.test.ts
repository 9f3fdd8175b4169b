/**
 * What the host keeps, an instance keeps: a module that remembered something would carry it from one app into the next of the same process (tests, and two
 * data folders in one program). The tests of the host share a world because of this.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';
import { expect, it } from 'vitest';

const main = join(import.meta.dirname, '..', '..', 'main');

/** Entries of a process begin it and end it, and nothing imports them. */
const entries = /^(?:electron|cli|node|[a-z-]+-thread)\.ts$/;

/** What does remember, and why that is the same for every instance. */
const known: Record<string, string> = {
  'background/jobs.ts reportRuns': 'by data folder',
  'commands/capture.ts command': 'joined with the real ports, keeps nothing',
  'commands/ports.ts command': 'joined with the real ports, keeps nothing',
  'commands/replay.ts command': 'joined with the real ports, keeps nothing',
  'commands/simulate.ts command': 'joined with the real ports, keeps nothing',
  'report/fonts.ts known': 'the files of the fonts, which lie beside the program',
  'runs/stored/stored-answers.ts opened': 'by folder of runs and settings',
  'store/open.ts expected': 'what the steps of the records make, by version',
  'source/list-ports.ts listOnce': 'the ports of this computer, while the system shows the same ones',
};

const isEmpty = (value: ts.Expression): boolean =>
  (ts.isArrayLiteralExpression(value) && value.elements.length === 0) ||
  (ts.isObjectLiteralExpression(value) && value.properties.length === 0) ||
  (ts.isNewExpression(value) && (value.arguments ?? []).length === 0) ||
  (ts.isCallExpression(value) && /^(?:create|make|open|start)[A-Z]/.test(value.expression.getText()));

/** @returns names of a file's own variables that can change: those not constant, empty collections, and what a maker made */
function keptBy(text: string): string[] {
  const source = ts.createSourceFile('file.ts', text, ts.ScriptTarget.Latest, true);
  return source.statements.flatMap((statement) => {
    if (!ts.isVariableStatement(statement)) return [];
    const { flags, declarations } = statement.declarationList;
    const isConstant = (flags & ts.NodeFlags.Const) !== 0;
    return declarations
      .filter(({ initializer }) => !isConstant || (initializer !== undefined && isEmpty(initializer)))
      .map(({ name }) => name.getText());
  });
}

it('no module of the host remembers anything but what is the same for every instance', () => {
  const files = readdirSync(main, { recursive: true, encoding: 'utf8' })
    .map((path) => path.replaceAll('\\', '/'))
    .filter((path) => path.endsWith('.ts') && !entries.test(path));
  expect(files.length).toBeGreaterThan(100);
  const kept = files.flatMap((path) => keptBy(readFileSync(join(main, path), 'utf8')).map((name) => `${path} ${name}`));
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
