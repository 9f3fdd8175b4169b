/**
 * Sizes and spaces come from tokens.css. A value that has a token is written as the token; what lies between the steps is counted, and the
 * count only falls. No component sizes text or spaces things in place.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { sheets as allSheets } from './class-use.ts';

const LOOK = 'renderer/look';
const read = (path: string): string => readFileSync(path, 'utf8');
const withoutComments = (css: string): string => css.replace(/\/\*[\s\S]*?\*\//g, '');
const tokens = withoutComments(read(`${LOOK}/tokens.css`));
/** px -> token */
const tokensOf = (name: RegExp): Map<string, string> =>
  new Map([...tokens.matchAll(/(--[\w-]+):\s*(\d+px);/g)].flatMap(([, token = '', px = '']) => (name.test(token) ? [[px, token]] : [])));
const type = tokensOf(/^--t-/);
const space = tokensOf(/^--(s\dh?|page)$/);

const sheets = allSheets.filter((path) => path !== `${LOOK}/tokens.css`);
type Raw = { sheet: string; rule: string; px: string };
/** Raw lengths of these properties, hairlines and zero apart. */
const rawOf = (property: RegExp): Raw[] =>
  sheets.flatMap((sheet) =>
    [...withoutComments(read(sheet)).matchAll(/(?<![\w-])([\w-]+):\s*([^;{}]+)[;}]/g)].flatMap(([, name = '', value = '']) =>
      property.test(name) && !/\b(calc|min|max|clamp)\(/.test(value)
        ? [...value.matchAll(/(?<![\w.-])(\d+px)\b/g)].map(([, px = '']) => ({ sheet, rule: `${name}: ${value}`, px }))
        : [],
    ),
  );
/** lengths that no token has, as many as there are */
const SIZES_BETWEEN = 22;
const SPACES_BETWEEN = 50;
const sizes = rawOf(/^font-size$/);
const spaces = rawOf(/^(padding|margin)(-(top|right|bottom|left))?$|^(row-|column-)?gap$/);

const componentFiles = readdirSync('renderer', { recursive: true, encoding: 'utf8' })
  .filter((path) => path.endsWith('.tsx'))
  .map((path) => join('renderer', path));

describe('sizes and spaces', () => {
  it('reads the sheets and the tokens', () => {
    expect(sheets.length).toBeGreaterThan(60);
    expect([type.get('15px'), space.get('20px'), space.get('14px')]).toEqual(['--t-note', '--page', '--s3h']);
  });
  it('are tokens where there is one', () => {
    const named = [...sizes.filter(({ px }) => type.has(px)), ...spaces.filter(({ px }) => space.has(px))];
    expect(named.map(({ sheet, rule, px }) => `${sheet} ${rule} -> var(${(type.get(px) ?? space.get(px)) as string})`)).toEqual([]);
  });
  it('lie between the steps no oftener than they did; whoever takes one away lowers the number', () => {
    expect(sizes.length).toBeLessThanOrEqual(SIZES_BETWEEN);
    expect(spaces.length).toBeLessThanOrEqual(SPACES_BETWEEN);
  });
  it('are set in a sheet, not in a component', () => {
    const inPlace = componentFiles.flatMap((path) =>
      [...read(path).matchAll(/style=\{\{([^}]*)\}\}/g)].flatMap(([, what = '']) =>
        /\b(fontSize|fontFamily|lineHeight|gap|padding\w*|margin\w*|color|background\w*)\s*:/.test(what) ? [`${path}: ${what.trim()}`] : [],
      ),
    );
    expect(inPlace).toEqual([]);
  });
});
