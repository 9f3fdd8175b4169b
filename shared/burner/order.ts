import { err, type Result } from '../result.ts';
import { problem, type Problem } from '../problem.ts';
import type { Burner } from './burner-interface.ts';
import { partNames, type PartValue } from './parts.ts';
import { burnerTexts } from '../words/core/burner.ts';

const words: Readonly<Record<string, boolean>> = { on: true, off: false, yes: true, no: false, in: true, out: false };

/**
 * An instructor's order as one typed line: `shutter 4.5`, `purge on`, `inlet co-400`, `fouling 1.15 over 300` (seconds).
 * @returns what was done, in words
 */
export function applyOrder(burner: Burner, text: string, atMs: number): Result<string, Problem> {
  const match = /^\s*([A-Za-z]+)\s+(\S+)(?:\s+over\s+(\d+(?:\.\d+)?))?\s*$/.exec(text);
  if (!match) return err(problem('usage', burnerTexts.noOrder(text.trim().slice(0, 60))));
  const [, name = '', valueText = '', overText] = match;
  const number = Number(valueText);
  const value: PartValue = words[valueText.toLowerCase()] ?? (Number.isNaN(number) ? valueText : number);
  if (burner.adjusters().some((adjuster) => adjuster.name === name)) {
    const turned = burner.setAdjuster(name, typeof value === 'number' ? value : Number.NaN, atMs);
    return turned.ok ? { ok: true, value: `${name} to ${turned.value}` } : turned;
  }
  const part = partNames.find((known) => known.toLowerCase() === name.toLowerCase()) ?? name;
  const done = burner.setPart(part, value, atMs, overText === undefined ? 0 : Number(overText) * 1000);
  return done.ok ? { ok: true, value: `${part} ${valueText}${overText === undefined ? '' : ` over ${overText} s`}` } : done;
}
