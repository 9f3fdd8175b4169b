/** One screen in all sizes and both themes: pictures, its text as it is read aloud, axe, and text that is cut off. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Page } from 'playwright-core';
import { violationsOf } from '../helpers/browser/axe.ts';
import { putPicture, type Change } from './compare.ts';

export const sizes = {
  '1280x800': { width: 1280, height: 800 },
  '1920x1080': { width: 1920, height: 1080 },
  '1024x700': { width: 1024, height: 700 },
  '1366x768': { width: 1366, height: 768 },
  // 1280x800 at a zoom of 200 %
  'zoom-200': { width: 640, height: 400 },
} as const;
export type Size = keyof typeof sizes;
export const themes = ['dark', 'light'] as const;
export type Theme = (typeof themes)[number];

export type Faults = { readonly name: string; readonly what: string }[];
export type Looked = { readonly changes: Change[]; readonly faults: Faults };
export type LookOptions = {
  readonly out: string;
  readonly sizes: readonly Size[];
  readonly themes: readonly Theme[];
  readonly axe: boolean;
};

/** Two frames: what follows from a new size is drawn. */
const drawn = (page: Page): Promise<void> =>
  page.evaluate(async () => {
    await document.fonts.ready;
    for (let frames = 0; frames < 3; frames++) await new Promise(requestAnimationFrame);
  });

export async function lookAt(page: Page, name: string, { out, sizes: wanted, themes: wantedThemes, axe }: LookOptions): Promise<Looked> {
  const changes: Change[] = [];
  const faults: Faults = [];
  for (const theme of wantedThemes) {
    await page.emulateMedia({ colorScheme: theme, reducedMotion: 'reduce' });
    for (const size of wanted) {
      await page.setViewportSize(sizes[size]);
      await drawn(page);
      const picture = `${name}--${size}--${theme}`;
      const bytes = await page.screenshot({ animations: 'disabled', caret: 'hide' });
      const change = putPicture(out, picture, bytes);
      if (change !== undefined) changes.push(change);
      if (theme === wantedThemes[0]) faults.push(...(await cutOff(page)).map((what) => ({ name: `${name}--${size}`, what })));
      if (axe) faults.push(...(await violationsOf(page)).map((what) => ({ name: picture, what: `axe: ${what}` })));
    }
  }
  await page.setViewportSize(sizes['1280x800']);
  await page.emulateMedia({ colorScheme: 'dark', reducedMotion: 'reduce' });
  await drawn(page);
  const text = join(out, 'text', `${name}.txt`);
  mkdirSync(dirname(text), { recursive: true });
  writeFileSync(text, `${await page.locator('body').ariaSnapshot()}\n`);
  return { changes, faults };
}

/** px, look.md section 3: any target, the main one and those of the mark bar, the watch; what lies between two beside each other */
const least = { target: 48, main: 64, watch: 88, between: 12 } as const;

/** Text that leaves the box it is cut by or the window, or that something lies over; a main button out of sight; what scrolls sideways; targets that a glove misses. */
const cutOff = (page: Page): Promise<string[]> =>
  page.evaluate((least) => {
    /** px, look.md section 2: notes and axes; less only for what is read beside a figure */
    const leastLetters = 12;
    const found: string[] = [];
    const label = (element: Element): string => `${element.tagName.toLowerCase()}.${element.getAttribute('class') ?? ''}`;
    function* ancestors(from: Element): Generator<Element> {
      for (let at: Element | null = from; at !== null && at !== document.body; at = at.parentElement) yield at;
    }
    const isZoomed = innerWidth <= 900;
    const nameOf = (target: HTMLElement): string =>
      (target.innerText || target.getAttribute('aria-label') || '').trim().replaceAll('\n', ' ').slice(0, 40);
    /**
     * Buttons that a glove takes for each other. Parts of one control (a switch, a stepper) and rows of one list or table touch each other on purpose: a
     * hairline parts them.
     */
    function* tooNear(within: Element, between: number) {
      const buttons = [...within.querySelectorAll<HTMLElement>('.button')].filter(
        (one) => one.checkVisibility({ visibilityProperty: true }) && one.getBoundingClientRect().height > 2,
      );
      const boxes = buttons.map((one) => one.getBoundingClientRect());
      for (const [at, one] of buttons.entries())
        for (let next = at + 1; next < buttons.length; next++) {
          const [a, b, other] = [boxes[at]!, boxes[next]!, buttons[next]!];
          if (one.closest('.switch, .stepper') !== null && one.closest('.switch, .stepper') === other.closest('.switch, .stepper'))
            continue;
          if (one.closest('.more-list') !== null && other.closest('.more-list') !== null) continue;
          // what lies over the page is pressed instead of what is under it
          const over = '.bar, .watch-buttons, .dialog-foot, .tour';
          if (other.closest(over) !== one.closest(over)) continue;
          const across = Math.max(a.left, b.left) - Math.min(a.right, b.right);
          const down = Math.max(a.top, b.top) - Math.min(a.bottom, b.bottom);
          if (across < between - 0.5 && across > -2 && down < 0) yield { one, other, px: across, side: 'beside' };
          else if (
            down < between - 0.5 &&
            down > -2 &&
            across < 0 &&
            (one.closest('tr') === null || one.closest('tr') === other.closest('tr'))
          )
            yield { one, other, px: down, side: 'below' };
        }
    }
    const range = document.createRange();
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    const texts = new Map<Element, { box: DOMRect; text: string }[]>();
    for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
      const element = node.parentElement;
      const text = (node.textContent ?? '').trim();
      if (element === null || text === '' || element.closest('.hidden-text, .live-strip, script, style, option') !== null) continue;
      range.selectNodeContents(node);
      const box = range.getBoundingClientRect();
      if (box.width === 0 || !element.checkVisibility({ visibilityProperty: true })) continue;
      // lines of an instrument, and what is typed into a recipe, are shown as they come
      if (/\b(?:CO|O|NO|SO|H)2(?![0-9a-z])|\bCO2max\b/.test(text) && element.closest('.mono, .as-it-came, code, pre') === null)
        found.push(`a 2 that is not set low: ${label(element)} “${text.slice(0, 60)}”`);
      const isScrolled = [...ancestors(element)].some((one) => /auto|scroll/.test(getComputedStyle(one).overflowX));
      if (!isScrolled && (box.right > innerWidth + 1 || box.left < -1))
        found.push(`outside the window: ${label(element)} “${text.slice(0, 60)}”`);
      for (let at: Element | null = element; at !== null && at !== document.body; at = at.parentElement) {
        if (at instanceof SVGElement && at.tagName.toLowerCase() !== 'svg') continue;
        const style = getComputedStyle(at);
        const cuts = (value: string): boolean => value === 'hidden' || value === 'clip';
        const scrolls = (value: string): boolean => value === 'auto' || value === 'scroll';
        const own = at.getBoundingClientRect();
        if (cuts(style.overflowX) && (box.right > own.right + 1.5 || box.left < own.left - 1.5)) {
          found.push(`cut at the side by ${label(at)}: ${label(element)} “${text.slice(0, 60)}”`);
          break;
        }
        if (cuts(style.overflowY) && (box.bottom > own.bottom + 3 || box.top < own.top - 3)) {
          found.push(`cut below by ${label(at)}: ${label(element)} “${text.slice(0, 60)}”`);
          break;
        }
        if (scrolls(style.overflowX) || scrolls(style.overflowY)) break;
      }
      const drawing = element.closest('svg');
      if (drawing !== null) texts.set(drawing, [...(texts.get(drawing) ?? []), { box, text }]);
    }
    for (const [drawing, all] of texts)
      all.forEach((one, index) =>
        all.slice(index + 1).forEach((other) => {
          const across = Math.min(one.box.right, other.box.right) - Math.max(one.box.left, other.box.left);
          const down = Math.min(one.box.bottom, other.box.bottom) - Math.max(one.box.top, other.box.top);
          if (across > 2 && down > 4) found.push(`over each other in ${label(drawing)}: “${one.text}” and “${other.text}”`);
        }),
      );
    // a word that crosses the edge of its own button
    for (const button of document.querySelectorAll<HTMLElement>('.button')) {
      if (!button.checkVisibility({ visibilityProperty: true })) continue;
      range.selectNodeContents(button);
      // what is only read aloud has no place on the screen
      const aloud = button.querySelector('.hidden-text');
      if (aloud !== null) range.setEndBefore(aloud);
      const [inside, own] = [range.getBoundingClientRect(), button.getBoundingClientRect()];
      if (own.width > 2 && inside.width > 0 && (inside.left < own.left - 1 || inside.right > own.right + 1))
        found.push(`words wider than their button: “${nameOf(button)}”`);
    }
    // letters of a drawing that is scaled down with it
    for (const text of document.querySelectorAll<SVGTextElement>('main svg text')) {
      const scale = text.getScreenCTM()?.a ?? 1;
      const size = parseFloat(getComputedStyle(text).fontSize) * scale;
      if (text.checkVisibility({ visibilityProperty: true }) && size > 0 && size < leastLetters)
        found.push(`letters of ${size.toFixed(0)} px in ${label(text.closest('svg') ?? text)}: “${text.textContent}”`);
    }
    const pen = document.createElement('canvas').getContext('2d');
    for (const field of document.querySelectorAll<HTMLElement>('input, select')) {
      if (field instanceof HTMLSelectElement) {
        // what is chosen is no text node, and a select says nothing of its width
        const style = getComputedStyle(field);
        if (pen !== null) pen.font = `${style.fontWeight} ${style.fontSize} ${style.fontFamily}`;
        const chosen = field.selectedOptions[0]?.textContent?.trim() ?? '';
        const room = field.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
        if (room > 0 && (pen?.measureText(chosen).width ?? 0) > room + 2)
          found.push(`a choice too narrow for what is chosen: ${label(field)} “${chosen}”`);
        continue;
      }
      const isText = /^(text|number|search|)$/.test(field.getAttribute('type') ?? '');
      if (isText && field.clientWidth > 0 && field.scrollWidth > field.clientWidth + 2)
        found.push(`a field too narrow for its value: ${label(field)} “${(field as HTMLInputElement).value}”`);
    }
    // rows of the office are 41 high; a box to tick is pressed by its label
    for (const target of document.querySelectorAll<HTMLElement>('button, select, input, summary, a[href], [role=spinbutton]')) {
      const pressed = target.closest('label, .field, .bar .stepper') ?? target;
      const { height, width } = pressed.getBoundingClientRect();
      if (height < 2 || width < 2 || target.closest('.hidden-text') !== null || !target.checkVisibility({ visibilityProperty: true }))
        continue;
      // what is pressed may reach beyond what is drawn
      const over = getComputedStyle(target, '::after');
      const reach = over.position === 'absolute' ? Math.max(height, parseFloat(over.height) || 0) : height;
      // at 200 % every px is two: what is left of the rule is the least target
      const wanted = isZoomed
        ? least.target
        : target.matches('.watch-main, .watch-over')
          ? least.watch
          : target.matches('.button.main, .bar .stepper > button, .bar:has(.stepper) > .button')
            ? least.main
            : least.target;
      if (reach < wanted - 0.5) found.push(`a target only ${Math.round(height)} high, not ${wanted}: ${label(target)} “${nameOf(target)}”`);
    }
    const top = [...document.querySelectorAll('dialog[open]')].at(-1) ?? document.body;
    for (const { one, other, px, side } of tooNear(top, isZoomed ? least.between / 2 : least.between))
      found.push(
        `only ${Math.round(px)} ${side}, not ${least.between}: “${nameOf(one)}” and “${nameOf(other)}” in ${label(one.parentElement ?? one)}`,
      );
    // the tour covers nothing that it speaks of
    const [said, spokenOf] = ['.tour', '.tour-ring'].map((one) => document.querySelector(one)?.getBoundingClientRect());
    if (said !== undefined && spokenOf !== undefined) {
      const across = Math.min(said.right, spokenOf.right) - Math.max(said.left, spokenOf.left);
      const down = Math.min(said.bottom, spokenOf.bottom) - Math.max(said.top, spokenOf.top);
      if (across > 2 && down > 2) found.push(`the tour lies over what it speaks of, by ${Math.round(across)} x ${Math.round(down)}`);
    }
    const onTop = [...document.querySelectorAll('dialog[open]')].at(-1) ?? document.body;
    for (const button of onTop.querySelectorAll<HTMLElement>('.button.main')) {
      const box = button.getBoundingClientRect();
      if (box.width > 0 && button.checkVisibility({ visibilityProperty: true }) && (box.bottom > innerHeight + 1 || box.top < -1))
        found.push(`main button out of sight: “${button.innerText.trim().slice(0, 40)}”`);
    }
    const walkOver = document.createTreeWalker(onTop, NodeFilter.SHOW_TEXT);
    for (let node = walkOver.nextNode(); node !== null; node = walkOver.nextNode()) {
      const element = node.parentElement;
      if (
        element === null ||
        (node.textContent ?? '').trim() === '' ||
        element.closest('.hidden-text, svg, option, script, style') !== null
      )
        continue;
      if (!element.checkVisibility({ visibilityProperty: true, opacityProperty: true })) continue;
      range.selectNodeContents(node);
      const box = range.getClientRects()[0];
      if (box === undefined || box.width === 0) continue;
      const [x, y] = [box.left + box.width / 2, box.top + box.height / 2];
      if (x < 0 || y < 0 || x >= innerWidth || y >= innerHeight) continue;
      // what is scrolled away is not under something
      const isAway = [...ancestors(element)].some((one) => {
        const own = one.getBoundingClientRect();
        return getComputedStyle(one).overflow !== 'visible' && (y < own.top + 1 || y > own.bottom - 1 || x < own.left || x > own.right);
      });
      const hit = document.elementFromPoint(x, y);
      // at 200 % the page scrolls below its foot
      if (innerWidth <= 900 && hit?.closest('.bar, .watch-buttons, footer') != null) continue;
      // the tour may lie over what it does not speak of
      if (isAway || hit === null || hit.contains(element) || element.contains(hit) || hit.closest('.tour') !== null) continue;
      const own = [...ancestors(hit)].filter((one) => !one.contains(element));
      const styles = own.map((one) => getComputedStyle(one));
      // a head of a table that stays is meant to lie over its rows
      if (styles.some(({ position }) => position === 'sticky' || position === 'fixed')) continue;
      if (styles.every(({ backgroundColor }) => /, 0\)$|^transparent$/.test(backgroundColor))) continue;
      found.push(`${label(hit)} lies over ${label(element)} “${(node.textContent ?? '').trim().slice(0, 40)}”`);
    }
    for (const one of document.querySelectorAll<HTMLElement>('main *, dialog *')) {
      if (!/auto|scroll/.test(getComputedStyle(one).overflowX) || !one.checkVisibility()) continue;
      if (one.scrollWidth <= one.clientWidth + 1) continue;
      // at 200 % a wide table moves within its own box; nothing else does
      if (innerWidth <= 900 && (one.matches('table') || one.querySelector(':scope > table') !== null)) continue;
      const widest = [...one.querySelectorAll('*')].sort((a, b) => b.getBoundingClientRect().right - a.getBoundingClientRect().right)[0];
      found.push(
        `scrolls sideways by ${one.scrollWidth - one.clientWidth}: ${label(one)}, for ${widest === undefined ? '' : label(widest)}`,
      );
    }
    for (const scrolled of [document.documentElement, document.body])
      if (scrolled.scrollWidth > innerWidth + 1) found.push(`the page is ${scrolled.scrollWidth - innerWidth} wider than the window`);
    return [...new Set(found)].slice(0, 20);
  }, least);
