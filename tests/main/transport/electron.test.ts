import { readFileSync } from 'node:fs';
import { beforeEach, describe, expect, it } from 'vitest';
import {
  electronTransport,
  WIRE_CHANNEL,
  type WireContents,
  type WireFrame,
  type WireHub,
  type WireMessage,
} from '../../../main/transport/electron.ts';
import { MESSAGE_LIMIT_BYTES } from '../../../main/transport/wire-client.ts';

type Listener = (event: WireMessage, message: unknown) => void;

function fakeShell() {
  const listeners = new Map<string, Set<Listener>>();
  const hub: WireHub = {
    on: (channel, listener) => listeners.set(channel, new Set([...(listeners.get(channel) ?? []), listener])),
    removeListener: (channel, listener) => listeners.get(channel)?.delete(listener),
  };
  const mainFrame: WireFrame & { url: string } = { url: 'app://flueside/', parent: null };
  const sent: unknown[] = [];
  const state = { destroyed: false };
  const contents: WireContents = {
    isDestroyed: () => state.destroyed,
    send: (channel, message) => sent.push({ channel, message }),
  };
  const emit = (event: Partial<WireMessage>, message: unknown): void => {
    for (const listener of listeners.get(WIRE_CHANNEL) ?? []) listener({ sender: contents, senderFrame: mainFrame, ...event }, message);
  };
  return { hub, contents, mainFrame, sent, state, emit, listeners };
}

let shell: ReturnType<typeof fakeShell>;
let received: unknown[];
let wire: ReturnType<typeof electronTransport>;
beforeEach(() => {
  shell = fakeShell();
  received = [];
  wire = electronTransport(shell.hub, shell.contents);
  wire.transport.onMessage((message) => received.push(message));
});

describe('the wire of the desktop shell', () => {
  it('carries messages both ways', () => {
    shell.emit({}, { type: 'call', id: 1 });
    wire.transport.send({ type: 'reply', id: 1 });
    expect(received).toEqual([{ type: 'call', id: 1 }]);
    expect(shell.sent).toEqual([{ channel: WIRE_CHANNEL, message: { type: 'reply', id: 1 } }]);
  });

  it('hears no other window, no frame inside, no frame that has gone, and no foreign page', () => {
    shell.emit({ sender: {} }, 'other window');
    shell.emit({ senderFrame: { url: 'app://flueside/', parent: shell.mainFrame } }, 'frame inside');
    shell.emit({ senderFrame: null }, 'gone');
    shell.mainFrame.url = 'https://burner.example/';
    shell.emit({}, 'foreign');
    expect(received).toEqual([]);
    expect(shell.sent).toEqual([]);
  });

  it('refuses what is too big in words, and what cannot be written down at all', () => {
    shell.emit({}, { type: 'call', id: 3, name: 'x', input: 'x'.repeat(MESSAGE_LIMIT_BYTES) });
    expect(shell.sent).toEqual([
      { channel: WIRE_CHANNEL, message: { type: 'reply', id: 3, result: { ok: false, error: { code: 'message-too-big' } } } },
    ]);
    const cycle: Record<string, unknown> = {};
    cycle['self'] = cycle;
    shell.emit({}, cycle);
    shell.emit({}, 10n);
    expect(received).toEqual([]);
  });

  it('sends nothing to a window that has gone', () => {
    shell.state.destroyed = true;
    wire.transport.send({ type: 'event' });
    expect(shell.sent).toEqual([]);
  });

  it('stops listening when closed', () => {
    wire.close();
    shell.emit({}, { type: 'call', id: 1 });
    expect(received).toEqual([]);
    expect(shell.listeners.get(WIRE_CHANNEL)?.size).toBe(0);
  });
});

it('the preload speaks on the same channel, and exposes one thing only', () => {
  const preload = readFileSync('main/preload.ts', 'utf8');
  expect(preload).toContain(`const channel = '${WIRE_CHANNEL}'`);
  expect(preload.match(/exposeInMainWorld/g)).toHaveLength(1);
  expect(preload).toMatch(/exposeInMainWorld\('flueside', transport\)/);
});
