/**
 * Who may import whom. `shared/` computes, `main/` touches the world, `renderer/` shows; inside `shared/` imports point left:
 *
 *     result, problem, clock <- units <- measurement <- lines, combustion, settling, series, burner
 *                            <- pipeline, tuning, bench, warm-up <- report;   words and ipc on the side
 */
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { dirname, join, normalize, sep } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';

const root = join(import.meta.dirname, '..');
const read = (path: string): string => readFileSync(join(root, path), 'utf8');

function filesBelow(folder: string, endings: RegExp): string[] {
  return readdirSync(join(root, folder), { withFileTypes: true }).flatMap((entry) => {
    const path = `${folder}/${entry.name}`;
    if (entry.isDirectory()) return entry.name === 'node_modules' || entry.name === 'dist' ? [] : filesBelow(path, endings);
    return endings.test(entry.name) ? [path] : [];
  });
}

/** Relative imports as paths from the root, packages as they are written. */
function importsOf(path: string): string[] {
  const { importedFiles } = ts.preProcessFile(read(path), true, true);
  return importedFiles.map(({ fileName }) =>
    fileName.startsWith('.')
      ? normalize(join(dirname(path), fileName))
          .split(sep)
          .join('/')
      : fileName,
  );
}

const code = ['shared', 'main', 'renderer', 'tests'].flatMap((folder) => filesBelow(folder, /\.tsx?$/));
const inFolder = (folder: string): string[] => code.filter((path) => path.startsWith(`${folder}/`));

/** `words/core` holds sentences that rooms of the core hand on; it knows no room but what is measured. */
const base = 'shared/((result|defined|problem|problem-schema|zod-setup|clock|wall-clock)\\.ts$|words/core/)';
const upTo = (...folders: string[]): RegExp => new RegExp(`^(${[base, ...folders.map((folder) => `shared/${folder}/`)].join('|')})`);
const measured = ['units', 'measurement'];
const computed = [...measured, 'lines', 'combustion', 'settling', 'series', 'geometry', 'burner'];
const judged = [...computed, 'pipeline', 'tuning', 'bench', 'warm-up'];

/** Folder -> what its files may import from `shared/`, besides their own folder. A folder that is not here may import nothing. */
const sharedRules: Record<string, RegExp> = {
  units: upTo(),
  format: upTo('units'),
  measurement: upTo('units'),
  lines: upTo(...measured),
  combustion: upTo(...measured),
  settling: upTo(...measured),
  series: upTo(...measured),
  geometry: upTo(...measured),
  burner: upTo(...measured, 'combustion', 'geometry'),
  pipeline: upTo(...computed),
  tuning: upTo(...computed),
  bench: upTo(...computed),
  'warm-up': upTo(...computed, 'format'),
  office: upTo(...judged, 'format'),
  report: upTo(...judged, 'format', 'words'),
  words: upTo(...judged, 'format'),
  ipc: upTo(...judged, 'office'),
};

/** Packages without any I/O of their own. React draws what paper and window share (`shared/report/drawings`, `page`); text out of it comes from `markup`. */
const purePackages = new Set(['react', 'react-dom/server', 'zod', 'simple-statistics', 're2js', 'd3-array', 'd3-scale', 'd3-shape']);

/** A part of the outside world -> the only files that may touch it. */
const gates: Record<string, RegExp> = {
  electron: /^main\/(electron|preload|transport\/electron|shell\/(open-window|dialogs))\.ts$/,
  serialport: /^main\/source\//,
  '@photostructure/sqlite': /^main\/store\/database\.ts$/,
  ws: /^main\/transport\//,
  pg: /^main\/office\/postgres\//,
};

describe('the check itself', () => {
  it('looks at the whole project', () => {
    for (const folder of ['shared', 'main', 'renderer', 'tests']) expect(inFolder(folder).length).toBeGreaterThan(10);
  });
  it('sees imports of every form, and none in text', () => {
    const forms = `import a from './a.ts'; import type { B } from './b.ts'; export * from './c.ts'; const d = await import('./d.ts'); // from './no.ts'\nconst text = " from './no.ts'";`;
    expect(ts.preProcessFile(forms, true, true).importedFiles.map(({ fileName }) => fileName)).toEqual([
      './a.ts',
      './b.ts',
      './c.ts',
      './d.ts',
    ]);
  });
});

describe('shared/', () => {
  it('imports only what stands to its left', () => {
    const allowed = (folder: string, target: string): boolean => {
      if (!target.startsWith('shared/')) return purePackages.has(target);
      if (folder.endsWith('.ts')) return new RegExp(`^${base}`).test(target);
      return target.startsWith(`shared/${folder}/`) || (sharedRules[folder]?.test(target) ?? false);
    };
    const wrong = inFolder('shared').flatMap((path) =>
      importsOf(path)
        .filter((target) => !allowed(path.split('/')[1] ?? '', target))
        .map((target) => `${path} -> ${target}`),
    );
    expect(wrong).toEqual([]);
  });

  it('has no folder that the table does not know', () => {
    const folders = readdirSync(join(root, 'shared')).filter((name) => statSync(join(root, 'shared', name)).isDirectory());
    expect(Object.keys(sharedRules)).toEqual(expect.arrayContaining(folders));
  });

  it('reads no clock and draws no lots', () => {
    const worldly = /\bDate\.now\b|\bnew Date\(\s*\)|\bperformance\.now\b|\bMath\.random\b|\bcrypto\.(getRandomValues|randomUUID)\b/;
    const found = inFolder('shared').filter((path) => worldly.test(withoutComments(read(path))));
    expect(found).toEqual([]);
  });
});

/** Rooms whose reducers run in the host, and nowhere else. */
const domainRooms = ['tuning', 'bench'];
/** What works a session out from a run's events, though it is no reducer by its form. */
const workers = new Set([
  'trialsWithTightening',
  'trialsOf',
  'numberedTrials',
  'diagnose',
  'hintsOf',
  'markForAnswer',
  'startShiftWatch',
  'nextPlan',
  'nextKept',
]);
/** They change a value that a form holds while it is typed, and no session. */
const ofForms = new Set(['shared/tuning/visit/at-path.ts', 'shared/tuning/trial/setting.ts', 'shared/tuning/card/target-card.ts']);

/** Exported functions that take a state and something more, and give that same state back (or why not): a reducer by its form. */
function reducersOf(path: string): string[] {
  if (ofForms.has(path)) return [];
  const source = ts.createSourceFile(path, read(path), ts.ScriptTarget.Latest, true);
  type Signed = { name: string; signature: ts.FunctionDeclaration | ts.ArrowFunction };
  const signatures = source.statements.flatMap((statement): Signed[] => {
    if (!ts.canHaveModifiers(statement) || !ts.getModifiers(statement)?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword)) return [];
    if (ts.isFunctionDeclaration(statement)) return [{ name: statement.name?.text ?? '', signature: statement }];
    if (!ts.isVariableStatement(statement)) return [];
    return statement.declarationList.declarations.flatMap(({ name, initializer }) =>
      initializer !== undefined && ts.isArrowFunction(initializer) ? [{ name: name.getText(), signature: initializer }] : [],
    );
  });
  return signatures.flatMap(({ name, signature: { parameters, type } }) => {
    const state = parameters[0]?.type?.getText();
    if (state === undefined || type === undefined || parameters.length < 2 || !/^[A-Z]\w*$/.test(state)) return [];
    return new RegExp(`^(Result<)?${state}\\b`).test(type.getText()) ? [name] : [];
  });
}

/** Names that are imported to be run, with the file that they come from. */
function valuesImported(path: string): { from: string; name: string }[] {
  const source = ts.createSourceFile(
    path,
    read(path),
    ts.ScriptTarget.Latest,
    true,
    path.endsWith('x') ? ts.ScriptKind.TSX : ts.ScriptKind.TS,
  );
  return source.statements.flatMap((statement) => {
    if (!ts.isImportDeclaration(statement) || !ts.isStringLiteral(statement.moduleSpecifier)) return [];
    const names = statement.importClause?.namedBindings;
    if (statement.importClause?.phaseModifier === ts.SyntaxKind.TypeKeyword || names === undefined || !ts.isNamedImports(names)) return [];
    const from = normalize(join(dirname(path), statement.moduleSpecifier.text))
      .split(sep)
      .join('/');
    return names.elements
      .filter(({ isTypeOnly }) => !isTypeOnly)
      .map(({ name, propertyName }) => ({ from, name: (propertyName ?? name).text }));
  });
}

describe('the two worlds', () => {
  const relative = (path: string): string[] => importsOf(path).filter((target) => /^(shared|main|renderer|tests)\//.test(target));

  it('main imports shared and itself', () => {
    const wrong = inFolder('main').flatMap((path) =>
      relative(path)
        .filter((target) => !/^(shared|main)\//.test(target))
        .map((target) => `${path} -> ${target}`),
    );
    expect(wrong).toEqual([]);
  });

  it('windows reduce nothing: no reducer of the domain rooms is imported by the renderer', () => {
    const reducers = new Map(domainRooms.flatMap((room) => inFolder(`shared/${room}`)).map((path) => [path, reducersOf(path)] as const));
    // the rule finds the ones that there are, or it would hold of an empty list
    expect([...reducers.values()].flat()).toEqual(
      expect.arrayContaining(['editVisit', 'signVisit', 'takeTrials', 'watchShift', 'pressWatch']),
    );
    const found = inFolder('renderer').flatMap((path) =>
      valuesImported(path)
        .filter(({ from, name }) => reducers.get(from)?.includes(name) === true || workers.has(name))
        .map(({ from, name }) => `${path} -> ${from} ${name}`),
    );
    expect(found).toEqual([]);
  });

  it('renderer imports shared and itself, and nothing of Node', () => {
    const ofBuild = new Set(['renderer/vite.config.ts']);
    const wrong = inFolder('renderer').flatMap((path) =>
      importsOf(path)
        .filter((target) => (/^(main|tests)\//.test(target) || target.startsWith('node:')) && !ofBuild.has(path))
        .map((target) => `${path} -> ${target}`),
    );
    expect(wrong).toEqual([]);
  });

  it('the preload takes types from shared/ipc and nothing else of ours', () => {
    expect(relative('main/preload.ts').filter((target) => !target.startsWith('shared/ipc/'))).toEqual([]);
  });

  it.each(Object.entries(gates))('%s is imported only at its gate', (name, gate) => {
    const users = [...inFolder('main'), ...inFolder('renderer'), ...inFolder('shared')].filter((path) =>
      importsOf(path).some((target) => target === name || target.startsWith(`${name}/`)),
    );
    expect(users.filter((path) => !gate.test(path))).toEqual([]);
    expect(users.length).toBeGreaterThan(0);
  });
});

/** Where text stands outside `shared/words` for a reason: folder or file -> the reason. */
const ownText: Readonly<Record<string, string>> = {
  'shared/words/': 'this is where sentences are',
  'shared/units/quantities.ts': 'labels of the table of quantities',
  'shared/combustion/figures/formula-texts.ts': 'formulas with their sources',
  'shared/tuning/card/example-cards.ts': 'published limits as they are named and cited',
  'shared/bench/limits.ts': 'published limits as they are named and cited',
};
/** Properties that say where something comes from. */
const citations = new Set(['source', 'sources', 'from', 'edition', 'method', 'conditions', 'draftSource']);

/** Five words, or three that end as a sentence does; what stands in for a value is written {}. */
function isSentence(text: string): boolean {
  if (/^\s*(SELECT|INSERT|UPDATE|DELETE|CREATE|WITH|id, body|seq, kind|appliance_id|const \{)|^[<":@]|[{;]\s*[\w-]+:\S/.test(text))
    return false;
  const words = text.split(/\s+/).filter((word) => /^["'(]?[A-Za-z][a-z'’]*["')]?[,.;:?!]?$/.test(word));
  if (words.filter((word) => word.replace(/\W/g, '').length >= 3).length < 2) return false;
  return words.length >= 5 || (words.length >= 3 && /[.?!]["')]?$/.test(text.trim()));
}

/** Sentences of a file, besides citations and what only a programmer reads (errors that are thrown). */
function sentencesOf(path: string, text = read(path)): string[] {
  const source = ts.createSourceFile(path, text, ts.ScriptTarget.Latest, true, path.endsWith('x') ? ts.ScriptKind.TSX : ts.ScriptKind.TS);
  const found: string[] = [];
  const textOf = (node: ts.Node): string | undefined => {
    if (ts.isJsxText(node)) return node.text;
    if (ts.isTemplateExpression(node)) return node.head.text + node.templateSpans.map(({ literal }) => `{}${literal.text}`).join('');
    return ts.isStringLiteralLike(node) && !ts.isImportDeclaration(node.parent) && !ts.isLiteralTypeNode(node.parent)
      ? node.text
      : undefined;
  };
  const isSilent = (node: ts.Node): boolean =>
    ts.isThrowStatement(node) ||
    (ts.isNewExpression(node) && node.expression.getText().endsWith('Error')) ||
    (ts.isJsxAttribute(node) && ['className', 'd'].includes(node.name.getText())) ||
    (ts.isPropertyAssignment(node) && citations.has(node.name.getText()));
  const visit = (node: ts.Node): void => {
    if (isSilent(node)) return;
    const own = textOf(node);
    if (own !== undefined && isSentence(own)) found.push(own.replace(/\s+/g, ' ').trim());
    ts.forEachChild(node, visit);
  };
  visit(source);
  return found;
}

describe('words', () => {
  it('are in shared/words: no sentence that a person can see stands anywhere else', () => {
    const here = ['shared', 'main', 'renderer']
      .flatMap(inFolder)
      .filter((path) => !Object.keys(ownText).some((own) => path.startsWith(own)));
    const found = here.flatMap((path) => sentencesOf(path).map((sentence) => `${path}: ${sentence}`));
    expect(found).toEqual([]);
  });

  it('are told from code: names, citations and thrown errors are no sentences', () => {
    const text = [
      "problem('not-found', 'There is no such field.')",
      '`The folder ${path} is not there.`',
      "'instrument-faults'; 'Stack loss'; import './there is no such file.ts'",
      "const row = { source: 'US EPA Method 3B, as read on the day' }; throw new Error('this is a bug of ours.')",
    ].join(';\n');
    expect(sentencesOf('a.ts', text)).toEqual(['There is no such field.', 'The folder {} is not there.']);
    expect(sentencesOf('a.tsx', 'const a = <p className="one two three four five">Wait for the stack.</p>')).toEqual([
      'Wait for the stack.',
    ]);
  });

  it('of the core know no room but what is measured', () => {
    const wrong = inFolder('shared/words/core').flatMap((path) => importsOf(path).filter((target) => !upTo('measurement').test(target)));
    expect(wrong).toEqual([]);
  });
});

describe('what the window draws first', () => {
  /** What comes with a file before anything of it runs: imports of types and those that are asked for later are none. */
  const comesWith = (path: string): string[] => {
    const file = ts.createSourceFile(path, read(path), ts.ScriptTarget.Latest, false);
    return file.statements.flatMap((one) => {
      if (!(ts.isImportDeclaration(one) || ts.isExportDeclaration(one)) || one.moduleSpecifier === undefined) return [];
      if (ts.isExportDeclaration(one) ? one.isTypeOnly : one.importClause?.isTypeOnly === true) return [];
      const to = (one.moduleSpecifier as ts.StringLiteral).text;
      return [
        to.startsWith('.')
          ? normalize(join(dirname(path), to))
              .split(sep)
              .join('/')
          : to,
      ];
    });
  };
  const reached = (...entries: string[]): Set<string> => {
    const seen = new Set(entries);
    for (const path of seen) if (/\.tsx?$/.test(path)) for (const to of comesWith(path)) seen.add(to);
    return seen;
  };

  it('needs neither charts, nor patterns, nor schemas, nor the advice and the screens of a visit: they come after the first figure', () => {
    const first = reached('renderer/main.tsx', 'renderer/views/tune/index.tsx');
    expect(first.has('renderer/views/tune/LiveView.tsx') && first.has('renderer/state/co-alerts.ts')).toBe(true);
    const late = [
      /^chart\.js/,
      /^re2js$/,
      /^zod$/,
      /^shared\/ipc\/contract\.ts$/,
      /^shared\/tuning\/(advice\/(advise|safe)|visit\/steps)\.ts$/,
      /^d3-(shape|scale)$/,
      /^renderer\/views\/(bench|records|settings|geometry|tour)\//,
      /^renderer\/views\/visit\/steps\/\w+Step\.tsx$/,
      /^renderer\/views\/lines\/\w+\.tsx$/,
    ];
    expect([...first].filter((path) => late.some((one) => one.test(path)))).toEqual([]);
    // a pattern that names nothing any more would hold nothing
    const own = late.filter(({ source }) => /^\^(shared|renderer)/.test(source));
    expect(own.filter((one) => !code.some((path) => one.test(path)))).toEqual([]);
  });
});

describe('every folder', () => {
  it('of the app can be looked over: at most twenty files in one list', () => {
    const count = new Map<string, number>();
    for (const path of code) if (!path.startsWith('tests/')) count.set(dirname(path), (count.get(dirname(path)) ?? 0) + 1);
    expect([...count].filter(([, files]) => files > 20)).toEqual([]);
    expect(count.size).toBeGreaterThan(50);
  });
});

describe('every file', () => {
  it('imports with its ending, so that what runs is what is written', () => {
    const wrong = code.flatMap((path) =>
      ts
        .preProcessFile(read(path), true, true)
        .importedFiles.filter(({ fileName }) => fileName.startsWith('.') && !/\.\w+(\?\w+)?$/.test(fileName))
        .map(({ fileName }) => `${path}: ${fileName}`),
    );
    expect(wrong).toEqual([]);
  });

  it('names no folder of the machine that it was written on', () => {
    // put together here, so that this file does not find itself
    const places = ['work', 'root', 'tmp'].map((name) => `/${name}/`).join('|');
    const machine = new RegExp(`(?<![\\w.~}-])(${places})`);
    const documents = ['README.md', 'DEVELOPERS.md', 'package.json', 'package-lock.json', 'eslint.config.js'].filter((path) =>
      readdirSync(root).includes(path),
    );
    const all = [
      ...code,
      ...['main', 'shared', 'tests'].flatMap((folder) => filesBelow(folder, /\.(mjs|md|json|yml|py|cmd|html|css)$/)),
      ...documents,
    ];
    expect(all.filter((path) => machine.test(read(path)))).toEqual([]);
  });

  it('stands in no circle: of two files at most one imports the other, also by way of others', () => {
    const known = new Set(code);
    const circles = circlesOf(new Map(code.map((path) => [path, importsOf(path).filter((target) => known.has(target))])));
    expect(circles).toEqual([]);
    expect(
      circlesOf(
        new Map([
          ['a', ['b']],
          ['b', ['c']],
          ['c', ['b']],
        ]),
      ),
    ).toEqual([['b', 'c']]);
  });

  it('hands nothing on that another file makes: a name is imported from where it is', () => {
    const handsOn = (path: string): boolean =>
      ts
        .createSourceFile(path, read(path), ts.ScriptTarget.Latest)
        .statements.some((statement) => ts.isExportDeclaration(statement) && statement.moduleSpecifier !== undefined);
    expect(code.filter(handsOn)).toEqual([]);
  });

  it('that DEVELOPERS.md names is there, and the page is short enough to be read', () => {
    const page = read('DEVELOPERS.md');
    const named = [...page.matchAll(/`([^`\n]+)`/g)].map(([, name = '']) => name);
    const paths = named.filter((name) => /^(shared|main|renderer|tests)\/[\w./-]*$/.test(name));
    const files = named.filter((name) => /^[\w-]+\.tsx?$/.test(name));
    expect([paths.length > 30, files.length > 5]).toEqual([true, true]);
    expect(paths.filter((path) => !existsSync(join(root, path)))).toEqual([]);
    expect(files.filter((name) => !code.some((path) => path.endsWith(`/${name}`)))).toEqual([]);
    expect(Buffer.byteLength(page)).toBeLessThanOrEqual(8192);
  });

  it('keeps the lockfile free of addresses', () => {
    expect(read('package-lock.json')).not.toMatch(/"resolved":\s*"https?:/);
  });
});

function withoutComments(text: string): string {
  return text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/(^|[^:])\/\/.*$/gm, '$1');
}

/** Groups of names that lead back to themselves (Tarjan), each sorted. */
function circlesOf(graph: ReadonlyMap<string, readonly string[]>): string[][] {
  const [index, low, path, onPath] = [new Map<string, number>(), new Map<string, number>(), [] as string[], new Set<string>()];
  const circles: string[][] = [];
  const lowOf = (name: string): number => low.get(name) ?? Infinity;
  const visit = (name: string): void => {
    index.set(name, index.size);
    low.set(name, index.size - 1);
    path.push(name);
    onPath.add(name);
    for (const next of graph.get(name) ?? []) {
      if (!index.has(next)) visit(next);
      if (onPath.has(next)) low.set(name, Math.min(lowOf(name), lowOf(next)));
    }
    if (lowOf(name) !== index.get(name)) return;
    const group = path.splice(path.indexOf(name));
    for (const one of group) onPath.delete(one);
    if (group.length > 1) circles.push(group.sort());
  };
  for (const name of graph.keys()) if (!index.has(name)) visit(name);
  return circles;
}
