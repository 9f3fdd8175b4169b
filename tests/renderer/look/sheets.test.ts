/**
 * Where the window's looks stand. A sheet beside a view speaks of that view's own parts; what several views show is in `renderer/look`. Who wins is
 * said by the layers, not by which file is read first. `npm run lint` (stylelint) holds what one sheet may say: each rule in a layer, colours from
 * tokens, no selector twice.
 */
import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { drawing, sheets, uses, usersOf } from './class-use.ts';

const read = (path: string): string => readFileSync(path, 'utf8');
const withoutComments = (css: string): string => css.replace(/\/\*[\s\S]*?\*\//g, '');
const COMMON = 'renderer/look';
const layers = /@layer ([\w, ]+);/.exec(read(`${COMMON}/index.css`))?.[1]?.split(', ') ?? [];

type Rule = { readonly sheet: string; readonly layer: string; readonly selectors: readonly string[] };
/** Layer by layer, the selectors of a sheet; a comma inside brackets parts nothing. */
function rulesOf(sheet: string): Rule[] {
  const rules: Rule[] = [];
  let layer = '';
  for (const [, head = ''] of withoutComments(read(sheet)).matchAll(/([^{};]+)\{/g)) {
    const text = head.trim();
    if (text.startsWith('@layer')) layer = text.slice(7);
    else if (!text.startsWith('@')) rules.push({ sheet, layer, selectors: text.split(/,(?![^(]*\))/).map((one) => one.trim()) });
  }
  return rules;
}
const classesIn = (selector: string): string[] => [...selector.matchAll(/\.([a-zA-Z_][\w-]*)/g)].map(([, name = '']) => name);
const rules = sheets.flatMap(rulesOf);
const names = new Set(rules.flatMap(({ selectors }) => selectors.flatMap(classesIn)));
const users = new Map([...names].map((name) => [name, usersOf(name)]));
const isOnlyBelow = (name: string, folder: string): boolean =>
  (users.get(name) ?? []).length > 0 && (users.get(name) ?? []).every((path) => path.startsWith(`${folder}/`));
const beside = rules.filter(({ sheet }) => dirname(sheet) !== COMMON);
const common = rules.filter(({ sheet }) => dirname(sheet) === COMMON);
/** The nearest folder that holds all who use a class. */
const homeOf = (name: string): string => {
  const [first = [], ...rest] = (users.get(name) ?? []).map((path) => dirname(path).split('/'));
  return first.filter((_, at) => rest.every((other) => first.slice(0, at + 1).join('/') === other.slice(0, at + 1).join('/'))).join('/');
};
const isOfOneView = (name: string): boolean => /^renderer\/views\/./.test(homeOf(name));

describe('sheets', () => {
  it('are found, with their rules and those who use them', () => {
    expect(sheets.length).toBeGreaterThan(60);
    expect(rules.length).toBeGreaterThan(1000);
    expect(layers).toEqual(['tokens', 'base', 'components', 'views', 'narrow', 'utilities']);
    expect([homeOf('wire'), homeOf('button').split('/')[0]]).toEqual(['renderer/views/visit/steps/frame', 'renderer']);
  });
  it('have at most 300 lines each', () => {
    expect(sheets.filter((path) => read(path).split('\n').length > 301)).toEqual([]);
  });
  it('say the order of the layers before anything else does', () => {
    expect(
      withoutComments(read(`${COMMON}/index.css`))
        .trim()
        .startsWith('@layer'),
    ).toBe(true);
    expect(/^import .*$/m.exec(read('renderer/main.tsx'))?.[0]).toBe("import './look/index.css';");
    const listed = [...read(`${COMMON}/index.css`).matchAll(/'\.\/([\w-]+\.css)'/g)].map(([, name = '']) => `${COMMON}/${name}`);
    expect(listed.sort()).toEqual(sheets.filter((path) => dirname(path) === COMMON && !path.endsWith('/index.css')).sort());
  });
  it('beside a view stand in the layers of views, common ones in the others', () => {
    expect(beside.filter(({ layer }) => layer !== 'views' && layer !== 'narrow')).toEqual([]);
    expect(common.filter(({ layer }) => layer === 'views' || !layers.includes(layer))).toEqual([]);
  });
});

describe('a rule', () => {
  it('beside a view names a class that only its folder uses', () => {
    const loose = beside.flatMap(({ sheet, selectors }) =>
      selectors.filter((one) => !classesIn(one).some((name) => isOnlyBelow(name, dirname(sheet)))).map((one) => `${sheet}: ${one}`),
    );
    expect(loose).toEqual([]);
  });
  it('that is common is not about one view alone, narrow windows apart', () => {
    const ofOne = common
      .filter(({ layer }) => layer !== 'narrow' && layer !== 'utilities')
      .flatMap(({ sheet, selectors }) => selectors.filter((one) => classesIn(one).some(isOfOneView)).map((one) => `${sheet}: ${one}`));
    expect(ofOne).toEqual([]);
  });
});

describe('a class', () => {
  it('of a view is used by files that import its sheet', () => {
    const missing = new Set<string>();
    for (const { sheet, selectors } of beside)
      for (const name of selectors.flatMap(classesIn))
        if (isOnlyBelow(name, dirname(sheet)))
          for (const user of users.get(name) ?? []) {
            const imported = [...read(user).matchAll(/^import '([^']+\.css)';$/gm)].map(([, path = '']) =>
              join(dirname(user), path).replaceAll('\\', '/'),
            );
            if (user.endsWith('.tsx') && !imported.includes(sheet)) missing.add(`${user} gives .${name} of ${sheet}`);
          }
    expect([...missing]).toEqual([]);
  });
  it('that a sheet names is used', () => {
    expect([...names].filter((name) => (users.get(name) ?? []).length === 0)).toEqual([]);
  });
  it('that the code gives is known to a sheet', () => {
    /** known to paper's style only, where the same drawings stand; or a handle that journeys take hold of */
    const apart = new Set(['fill-third', 'formula', 'mark', 'export-lines']);
    const unknown = uses.flatMap(({ path, classes }) =>
      [...classes.whole].filter((name) => !names.has(name) && !apart.has(name)).map((name) => `${path}: ${name}`),
    );
    expect(unknown).toEqual([]);
    expect([...apart].filter((name) => names.has(name) || usersOf(name).length === 0)).toEqual([]);
    expect(drawing.length).toBeGreaterThan(300);
  });
});

describe('a token', () => {
  it('that a sheet takes is one that a sheet or a drawing sets', () => {
    const all = [...sheets.map(read), ...drawing.map(read)].join('\n');
    const set = new Set([...all.matchAll(/(--[\w-]+)['"\]]*\s*:/g)].map(([, name = '']) => name));
    const taken = new Set(sheets.flatMap((path) => [...read(path).matchAll(/var\((--[\w-]+)/g)].map(([, name = '']) => name)));
    expect([...taken].filter((name) => !set.has(name))).toEqual([]);
  });
});
