/**
 * Who may import whom. `shared/` computes, `main/` touches the world, `renderer/` shows; inside `shared/` imports point left:
 *
 *     result, problem, clock <- units <- measurement <- lines, combustion, settling, series, burner
 *                            <- pipeline, tuning, bench, warm-up <- report;   words and ipc on the side
 */
import { readdirSync, statSync } from 'node:fs';
import { dirname, join, normalize, sep } from 'node:path';
import ts from 'typescript';
import { describe, expect, it } from 'vitest';
import { root, read, importsOf, code, inFolder, base, upTo } from './project-files.ts';

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
/** Rooms whose reducers run in the host, and nowhere else. */
const domainRooms = ['tuning', 'bench'];
/** What works a session out from a run's events, though it is no reducer by its form. */
const workers = new Set([
  'trialsWithTightening',
  'trialsOf',
  'numberedTrials',
  'diagnose',
  'hintsOf',
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
function withoutComments(text: string): string {
  return text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/(^|[^:])\/\/.*$/gm, '$1');
}

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
      /^renderer\/views\/visit\/steps\/([\w-]+\/)?\w+Step\.tsx$/,
      /^renderer\/views\/lines\/([\w-]+\/)?\w+\.tsx$/,
    ];
    expect([...first].filter((path) => late.some((one) => one.test(path)))).toEqual([]);
    // a pattern that names nothing any more would hold nothing
    const own = late.filter(({ source }) => /^\^(shared|renderer)/.test(source));
    expect(own.filter((one) => !code.some((path) => one.test(path)))).toEqual([]);
  });
});
