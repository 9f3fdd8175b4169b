import { expect, it } from 'vitest';
import { answerAppRequest, type ProtocolParts } from '../../../main/shell/app-protocol.ts';
import { ok } from '../../../shared/result.ts';

const parts: ProtocolParts = {
  files: new Map([['/', { type: 'text/html; charset=utf-8', bytes: Buffer.from('<title>Flueside</title>'), cache: 'no-store' }]]),
  takeDownload: (token) => (token === 'known' ? { fileName: 'a.csv', mime: 'text/csv', text: 'a,b\n' } : undefined),
  takePage: (token) => (token === 'known' ? '<h1>Report</h1>' : undefined),
  uploads: {
    receive: async (stream, fileName) => {
      let bytes = 0;
      for await (const chunk of stream) bytes += (chunk as Buffer).length;
      return ok({ upload: 'u', fileName, bytes });
    },
  },
};
const ask = (address: string, init?: RequestInit) => answerAppRequest(new Request(address, init), parts);

it('serves the window with the strict policy', async () => {
  const answer = await ask('app://flueside/');
  expect(answer.status).toBe(200);
  expect(answer.headers.get('content-type')).toBe('text/html; charset=utf-8');
  expect(answer.headers.get('content-security-policy')).toContain("script-src 'self'");
  expect(await answer.text()).toBe('<title>Flueside</title>');
});

it.each([
  'app://flueside/../package.json',
  'app://flueside/%2e%2e/package.json',
  'app://other/',
  'https://burner.example/',
  'file:///etc/passwd',
])('has nothing else: %s', async (address) => {
  const answer = await ask(address);
  expect(address.startsWith('app://flueside/') ? answer.status : 404).toBe(404);
  expect(answer.status).toBe(404);
});

it('gives a download once it is known', async () => {
  const answer = await ask('app://flueside/download/known');
  expect(answer.headers.get('content-disposition')).toContain('a.csv');
  expect(await answer.text()).toBe('a,b\n');
  expect((await ask('app://flueside/download/guessed')).status).toBe(404);
});

it('gives the page that is printed without letting it run anything', async () => {
  const answer = await ask('app://flueside/print/known');
  expect(answer.headers.get('content-security-policy')).toMatch(/^default-src 'none'/);
  expect(answer.headers.get('content-security-policy')).not.toContain('script');
  expect((await ask('app://flueside/print/guessed')).status).toBe(404);
});

it('takes a file in, and no other method', async () => {
  const answer = await ask('app://flueside/upload', { method: 'POST', body: 'abc', headers: { 'x-flueside-name': 'a%20b.run' } });
  expect(await answer.json()).toEqual({ upload: 'u', fileName: 'a b.run', bytes: 3 });
  expect((await ask('app://flueside/', { method: 'POST', body: 'x' })).status).toBe(405);
  expect((await ask('app://flueside/', { method: 'DELETE' })).status).toBe(405);
});
