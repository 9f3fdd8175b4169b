import type { ReactElement } from 'react';
import { createElement } from 'react';
import { markup } from '../markup.ts';
import { PAGE_POLICY } from '../pages/page-policy.ts';

/** A whole HTML file around a body. The style is ours alone: typed text gets into it only through `cssString`. */
export const pageFile = ({ title, style, body }: { title: string; style: string; body: ReactElement }): string =>
  [
    '<!doctype html>',
    '<html lang="en"><head><meta charset="utf-8">',
    PAGE_POLICY,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    markup(createElement('title', undefined, title)),
    `<style>${style}</style></head><body>`,
    markup(body),
    '</body></html>',
  ].join('\n');
