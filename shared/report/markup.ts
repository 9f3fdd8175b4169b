/** Components as text, for paper and files: the same components that the window shows. React escapes what they are given. */
import type { ReactElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';

export const markup = (element: ReactElement): string => renderToStaticMarkup(element);
