// @vitest-environment happy-dom
/** Work that can be stopped has a button for it, other work has none. */
import { cleanup, fireEvent, render, screen } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { ProgressLine } from '../../../renderer/components/ProgressLine.tsx';
import { progress as words } from '../../../shared/words/progress.ts';

afterEach(cleanup);

it('stops what can be stopped', () => {
  let stopped = 0;
  render(<ProgressLine title="Writing the samples" share={0.25} onStop={() => stopped++} />);
  fireEvent.click(screen.getByRole('button', { name: words.stop }));
  expect(stopped).toBe(1);
  expect(screen.getByRole('progressbar').getAttribute('value')).toBe('0.25');
});

it('has no button where nothing can be stopped', () => {
  render(<ProgressLine title="Opening" share={0} />);
  expect(screen.queryByRole('button')).toBeNull();
});
