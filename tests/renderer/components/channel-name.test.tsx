// @vitest-environment happy-dom
/** The 2 of a gas is set low, wherever a name is shown: the font has no sign for it. */
import { cleanup, render } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { ChannelName } from '../../../renderer/components/ChannelName.tsx';
import { Choice, Field } from '../../../renderer/components/Field.tsx';

afterEach(cleanup);
const low = (root: HTMLElement): string[] =>
  [...root.querySelectorAll('sub')].map((one) => `${one.previousSibling?.textContent}${one.textContent}`);

it.each([
  ['O2 %, dry', ['O2']],
  ['computed from O2, CO2max 15.5 %', ['O2', 'CO2']],
  ['No. 2 oil, EN 50379-2, CO', []],
])('%s', (text, expected) => {
  const { container } = render(<ChannelName text={text} />);
  expect(low(container)).toEqual(expected);
  expect(container.textContent).toBe(text);
});

it('in a label, a hint and an error of a field', () => {
  const change = (): void => undefined;
  const { container } = render(
    <>
      <Field label="CO2max" value="" change={change} hint="CO2 follows from it" />
      <Field label="a" value="" change={change} error="O2 is missing" />
      <Choice label="Lowest O2" value="a" change={change} options={[{ value: 'a', text: 'a' }]} hint="CO2max of the fuel" />
    </>,
  );
  expect(low(container)).toEqual(['CO2', 'CO2', 'O2', 'O2', 'CO2']);
});
