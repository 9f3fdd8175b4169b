// @vitest-environment happy-dom
import { cleanup, render } from '@testing-library/react';
import { afterEach, describe, expect, it } from 'vitest';
import { ResponsePicture } from '../../../renderer/views/bench/result/ResultPictures.tsx';

afterEach(cleanup);

/** what stands beside the value axis, from below */
const labels = (channel: 'o2' | 'co', values: readonly number[], target: number): string[] => {
  const points = values.map((value, second) => [second, value] as const);
  render(<ResponsePicture channel={channel} points={points} response={undefined} target={target} />);
  return [...document.querySelectorAll('text[text-anchor="end"]')].map(({ textContent }) => (textContent ?? '').replace(/\s/g, ' '));
};

describe('the way to a gas', () => {
  it('tells one tick from the next, and one digit of noise from a change', () => {
    const shown = labels('o2', [20.9, 20.9, 20.8, 20.9], 20.95);
    expect(shown.length).toBeGreaterThan(1);
    expect(new Set(shown).size).toBe(shown.length);
    expect(Number(shown.at(-1)) - Number(shown[0])).toBeGreaterThanOrEqual(0.5);
  });
  it('has no decimals where the ticks need none', () => {
    expect(labels('co', [0, 300, 700, 980], 1000)).toEqual(['0', '200', '400', '600', '800', '1 000']);
  });
});
