import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { readAloudFaults } from '../helpers/browser/read-aloud.ts';

describe('what a screen reader says', () => {
  it('passes names with their units and words apart', () => {
    const snapshot = [
      '- group "O2 %, dry: 4.8, settled for 15 s":',
      '  - button "Take reading" [disabled]: Enter',
      `  - 'button "Trial 4: shutter 4.75, band 3"':`,
      '  - table "Trials":',
      '    - row "Stage 1, low fire 0.65 gph 100 psi 106.4 kBtu/h, HHV"',
      '    - cell "flueside-visit42.pdf, 1013 hPa, B20"',
      '  - text: COppm is no name, and no harm',
    ].join('\n');
    expect(readAloudFaults(snapshot)).toEqual([]);
  });
  it.each([
    ['- group "COppm dry: 8"', 'COppm'],
    ['- group "Stack°F"', 'Stack°F'],
    ['  - button "Take readingEnter"', 'readingEnter'],
    ['    - row "Efficiency84.9 %"', 'Efficiency84.9'],
    ['    - cell "7Band"', '7Band'],
  ])('tells words that run into each other: %s', (line, token) => {
    // the full stop of a figure makes no file of it
    expect(readAloudFaults(line)).toEqual([expect.stringContaining(`“${token}”`)]);
  });
  it.each(['table', 'button', 'textbox', 'dialog'])('tells a %s without a name', (role) => {
    expect(readAloudFaults(`  - ${role}:`)).toEqual([`read aloud: a ${role} without a name`]);
    expect(readAloudFaults(`  - ${role} [disabled]`)).toEqual([`read aloud: a ${role} without a name`]);
  });
});

const components = readdirSync('renderer', { recursive: true, encoding: 'utf8' })
  .filter((path) => path.endsWith('.tsx'))
  .map((path) => join('renderer', path));

it('every table of the window has a name', () => {
  const tables = components.flatMap((path) =>
    [...readFileSync(path, 'utf8').matchAll(/<table\b([^>]*)>\s*(<caption\b)?/g)].map(([, attributes = '', caption]) => ({
      path,
      isNamed: caption !== undefined || /aria-label(ledby)?=/.test(attributes),
    })),
  );
  expect(tables.length).toBeGreaterThan(25);
  expect(tables.filter(({ isNamed }) => !isNamed).map(({ path }) => path)).toEqual([]);
});
