// @vitest-environment happy-dom
/** A file is asked for: what was chosen comes, the same one again too, and nothing where the window of files was closed. */
import { cleanup, fireEvent, render, screen } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { FileButton } from '../../../renderer/components/FileButton.tsx';

afterEach(cleanup);

it('hands on what was chosen, all of it, and is empty again for the same file', () => {
  const chosen: string[][] = [];
  render(<FileButton text="Open" accept=".json" multiple choose={(files) => chosen.push(files.map(({ name }) => name))} />);
  const input = screen.getByLabelText<HTMLInputElement>('Open', { selector: 'input' });
  const emptied: unknown[] = [];
  // a browser tells of no change where the field still holds the file
  Object.defineProperty(input, 'value', { set: (value: unknown) => emptied.push(value) });
  const choose = (...names: string[]): void =>
    void fireEvent.change(input, { target: { files: names.map((name) => new File(['{}'], name)) } });
  choose('one.json', 'two.json');
  choose('one.json');
  choose();
  expect(chosen).toEqual([['one.json', 'two.json'], ['one.json']]);
  expect(emptied).toEqual(['', '', '']);
});

it('opens the window of files by its button', () => {
  let opened = 0;
  render(<FileButton text="Open" accept=".json" choose={() => undefined} />);
  screen.getByLabelText('Open', { selector: 'input' }).addEventListener('click', () => (opened += 1));
  fireEvent.click(screen.getByText('Open'));
  expect(opened).toBe(1);
});
