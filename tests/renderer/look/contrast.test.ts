import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

/**
 * Contrast of the tokens, computed from the file that ships.
 * Source of formula and limits: W3C, WCAG 2.2, "relative luminance" and "contrast ratio"; success criteria 1.4.3 (text 4.5:1) and
 * 1.4.11 (parts of controls and graphics 3:1).
 */
const css = readFileSync('renderer/look/tokens.css', 'utf8');

type Tokens = Record<string, string>;
function tokensOf(theme: 'dark' | 'light'): Tokens {
  const block = new RegExp(`\\[data-theme=["']${theme}["']\\] \\{([^}]*)\\}`).exec(css)?.[1] ?? '';
  return Object.fromEntries([...block.matchAll(/--([\w-]+):\s*(#[0-9a-f]{6})/gi)].map(([, name, value]) => [name ?? '', value ?? '']));
}

function luminance(hex: string): number {
  const [r = 0, g = 0, b = 0] = [1, 3, 5].map((at) => {
    const share = parseInt(hex.slice(at, at + 2), 16) / 255;
    return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
  });
  return 0.2126 * r + 0.7152 * g + 0.0722 * b;
}
export function contrast(one: string, other: string): number {
  const [light = 0, dark = 0] = [luminance(one), luminance(other)].sort((a, b) => b - a);
  return (light + 0.05) / (dark + 0.05);
}

const surfaces = ['ground', 'raised', 'sunken'];
const on = (names: readonly string[], grounds: readonly string[]): [string, string][] =>
  names.flatMap((name) => grounds.map((ground): [string, string] => [name, ground]));
const text: [string, string][] = [
  ...on(['ink', 'ink-2', 'ink-3', 'accent', 'notice', 'alarm'], surfaces),
  ['accent-ink', 'accent'],
  ['ink', 'accent-soft'],
  ['ink-2', 'accent-soft'],
  ['ink', 'notice-soft'],
  ['notice', 'notice-soft'],
  ['ink', 'alarm-soft'],
  ['alarm-ink', 'alarm-fill'],
  ['ink', 'ground'],
];
const parts: [string, string][] = on(['edge', 'focus', 'ch-o2', 'ch-co', 'ch-stack', 'ch-air', 'ch-5', 'ch-6'], surfaces);

describe.each(['dark', 'light'] as const)('%s theme', (theme) => {
  const tokens = tokensOf(theme);
  const ratio = ([name, ground]: [string, string]): number => contrast(tokens[name] ?? '#000000', tokens[ground] ?? '#000000');

  it('has every token that the checks name', () => {
    for (const name of new Set([...text, ...parts].flat())) expect(tokens[name], name).toMatch(/^#/);
  });
  it.each(text)('text %s on %s is at least 4.5', (name, ground) => {
    expect(ratio([name, ground])).toBeGreaterThanOrEqual(4.5);
  });
  it.each(parts)('%s on %s is at least 3', (name, ground) => {
    expect(ratio([name, ground])).toBeGreaterThanOrEqual(3);
  });
});

it('computes the ratios that the standard gives: black on white 21, #767676 on white 4.54', () => {
  expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 6);
  // the lightest grey that passes 4.5:1 on white, common knowledge of the trade (from memory)
  expect(contrast('#767676', '#ffffff')).toBeCloseTo(4.54, 2);
});
