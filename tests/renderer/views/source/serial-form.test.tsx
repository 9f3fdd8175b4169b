// @vitest-environment happy-dom
/** Connecting to a serial port: which port, how it is read, and how its line is set; nothing starts without a port and a speed. */
import { cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { AppContext, useParts } from '../../../../renderer/app-parts.ts';
import { SerialForm } from '../../../../renderer/views/source/forms/SerialForm.tsx';
import { SerialSettings } from '../../../../shared/measurement/run.ts';
import { source as words } from '../../../../shared/words/source.ts';
import { button, field, inWindow, typeInto } from '../../helpers/in-window.tsx';

afterEach(cleanup);

const free = { path: '/dev/ttyUSB0', label: 'USB serial 1', maker: 'serial adapter', device: {} };
const used = { path: '/dev/ttyUSB1', label: 'USB serial 2', device: {}, inUseByRun: 'run-1' };
const spare = { path: 'COM7', label: 'COM7', device: {} };

function show({ ports = [used, free, spare], recipes = ['comma columns'], mayAct = true }: Partial<Parameters<typeof SerialForm>[0]> = {}) {
  const startRun = vi.fn();
  function Form() {
    const parts = useParts();
    return (
      <AppContext value={{ ...parts, actions: { ...parts.actions, startRun } }}>
        <SerialForm ports={ports} recipes={recipes} mayAct={mayAct} />
      </AppContext>
    );
  }
  inWindow(<Form />, {});
  return startRun;
}
const start = (): HTMLButtonElement => document.querySelector<HTMLButtonElement>('.foot button')!;
const asked = (startRun: ReturnType<typeof show>): unknown => {
  fireEvent.click(start());
  return startRun.mock.lastCall?.[0];
};
const ports = () =>
  screen.queryAllByRole<HTMLButtonElement>('radio').map((one) => [one.textContent, one.getAttribute('aria-checked'), one.disabled]);
const usual = SerialSettings.parse({});

describe('the ports', () => {
  it('are listed with what tells them apart; the first that is free is chosen, one in use cannot be', () => {
    const startRun = show();
    expect(ports()).toEqual([
      [`USB serial 2 · /dev/ttyUSB1${words.inUse}`, 'false', true],
      ['USB serial 1 · serial adapter · /dev/ttyUSB0', 'true', false],
      ['COM7', 'false', false],
    ]);
    expect(start().textContent).toContain(words.next.port('USB serial 1'));
    expect(asked(startRun)).toEqual({ source: { kind: 'serial', path: '/dev/ttyUSB0', settings: { ...usual, baud: 9600 } } });
  });
  it('can be chosen by hand, or one typed that is not listed, until another is chosen', () => {
    const startRun = show();
    fireEvent.click(screen.getByRole('radio', { name: /COM7/ }));
    expect(start().textContent).toContain(words.next.port('COM7'));
    typeInto(words.typedPort, ' /dev/ttyS9 ');
    expect(ports().map(([, checked]) => checked)).toEqual(['false', 'false', 'false']);
    expect(start().textContent).toContain(words.connect);
    expect(asked(startRun)).toMatchObject({ source: { path: '/dev/ttyS9' } });
    fireEvent.click(screen.getByRole('radio', { name: /USB serial 1/ }));
    expect(field(words.typedPort).value).toBe('');
    expect(asked(startRun)).toMatchObject({ source: { path: '/dev/ttyUSB0' } });
  });
  it('none: it says what to do, and waits for a name', () => {
    const startRun = show({ ports: [] });
    expect(screen.getByText(words.noPorts)).toBeDefined();
    expect(start().disabled).toBe(true);
    typeInto(words.typedPort, 'COM4');
    expect(start().disabled).toBe(false);
    expect(asked(startRun)).toMatchObject({ source: { path: 'COM4' } });
  });
});

describe('the line', () => {
  it('is set as typed and chosen', () => {
    const startRun = show();
    typeInto(words.baud, '19200');
    typeInto(words.dataBits, '7');
    typeInto(words.parity, 'even');
    typeInto(words.stopBits, '1.5');
    typeInto(words.flow, 'rts-cts');
    for (const name of [words.dtr, words.rts, words.hangUp]) fireEvent.click(field(name));
    expect(asked(startRun)).toMatchObject({
      source: {
        settings: {
          baud: 19200,
          dataBits: 7,
          parity: 'even',
          stopBits: 1.5,
          flow: 'rts-cts',
          dtr: !usual.dtr,
          rts: !usual.rts,
          hangUpOnClose: !usual.hangUpOnClose,
        },
      },
    });
  });
  it('offers every number of data bits and stop bits that a serial line can have', () => {
    show();
    const offered = (name: string) => [...screen.getByLabelText<HTMLSelectElement>(name).options].map(({ value }) => value);
    expect(offered(words.dataBits)).toEqual(['5', '6', '7', '8']);
    expect(offered(words.stopBits)).toEqual(['1', '1.5', '2']);
  });
  it.each(['', 'fast'])('does not start at a speed of "%s"', (text) => {
    const startRun = show();
    typeInto(words.baud, text);
    expect(start().disabled).toBe(true);
    expect(field(words.baud).getAttribute('aria-invalid')).toBe(String(text !== ''));
    expect(asked(startRun)).toBeUndefined();
  });
  it('is read by a recipe that is chosen, else learned', () => {
    const startRun = show();
    typeInto(words.recipeChoice, 'comma columns');
    expect(asked(startRun)).toMatchObject({ recipe: 'comma columns' });
    typeInto(words.recipeChoice, '');
    expect(asked(startRun)).not.toHaveProperty('recipe');
  });
});

it('a window that may only look starts nothing', () => {
  show({ mayAct: false });
  expect(button(words.next.port('USB serial 1')).disabled).toBe(true);
});
