import { expect, it } from 'vitest';
import { contentPolicy, safetyHeaders } from '../../../main/transport/content-policy.ts';

/** Parsed as CSP Level 3 section 2.2.1 reads it: directives between semicolons, the first of a name counts. */
const parse = (policy: string): Map<string, string[]> =>
  new Map(
    policy
      .split(';')
      .map((part) => part.trim().split(/\s+/))
      .map(([name, ...values]) => [name ?? '', values]),
  );

it('allows no inline script, no eval and nothing from elsewhere', () => {
  const policy = contentPolicy(['ws://127.0.0.1:1']);
  const rules = parse(policy);
  expect(rules.get('default-src')).toEqual(["'none'"]);
  expect(rules.get('script-src')).toEqual(["'self'"]);
  expect(rules.get('style-src')).toEqual(["'self'"]);
  expect(rules.get('object-src')).toEqual(["'none'"]);
  expect(rules.get('base-uri')).toEqual(["'none'"]);
  expect(rules.get('form-action')).toEqual(["'none'"]);
  expect(rules.get('frame-ancestors')).toEqual(["'none'"]);
  expect(rules.get('connect-src')).toEqual(["'self'", 'ws://127.0.0.1:1']);
  expect(policy).not.toMatch(/unsafe|\*|https?:/);
});

it('comes with the other headers that keep other pages out', () => {
  const headers = safetyHeaders();
  expect(headers['X-Content-Type-Options']).toBe('nosniff');
  expect(headers['Cross-Origin-Resource-Policy']).toBe('same-origin');
  expect(headers['Referrer-Policy']).toBe('no-referrer');
});
