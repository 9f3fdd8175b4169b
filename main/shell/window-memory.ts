/** Where the window was, how large, how far zoomed in, and which files were opened lately. In a small file beside Chromium's own. */
import { mkdir, readFile, rename, writeFile } from 'node:fs/promises';
import { dirname } from 'node:path';
import { z } from 'zod';

const Rectangle = z.object({ x: z.int(), y: z.int(), width: z.int().min(100), height: z.int().min(100) });
export type Rectangle = z.infer<typeof Rectangle>;

const WindowMemory = z.object({
  place: Rectangle.optional(),
  isMaximized: z.boolean().default(false),
  isFullScreen: z.boolean().default(false),
  /** Chromium's own steps: 0 is 100 %, each one a fifth more */
  zoomLevel: z.number().min(-8).max(9).default(0),
  recentFiles: z.array(z.string()).max(20).default([]),
});
export type WindowMemory = z.infer<typeof WindowMemory>;

export type WindowPlace = {
  readonly x?: number;
  readonly y?: number;
  readonly width: number;
  readonly height: number;
  readonly minWidth: number;
  readonly minHeight: number;
};

const MOST_RECENT = 8;
const usual = { width: 1280, height: 800 };
const smallest = { width: 1024, height: 700 };

/** A missing or unreadable file is no loss: the window opens as it does the first time. */
export async function readWindowMemory(path: string): Promise<WindowMemory> {
  const text = await readFile(path, 'utf8').catch(() => '{}');
  try {
    const read = WindowMemory.safeParse(JSON.parse(text));
    return read.success ? read.data : WindowMemory.parse({});
  } catch {
    return WindowMemory.parse({});
  }
}

/** Not synced to the disk, and never waited for: a lost place costs nothing, a stalled loop costs time stamps. */
export async function writeWindowMemory(path: string, memory: WindowMemory): Promise<void> {
  await mkdir(dirname(path), { recursive: true });
  const temporary = `${path}.new`;
  await writeFile(temporary, JSON.stringify(memory), { mode: 0o600 });
  await rename(temporary, path);
}

export const withRecentFile = (files: readonly string[], path: string): string[] =>
  [path, ...files.filter((file) => file !== path)].slice(0, MOST_RECENT);

/**
 * The window's size and place on the screens that are there now. A screen may have gone since, or be smaller than the smallest layout.
 *
 * @param screens the usable part of each screen, the main one first
 */
export function placeOnScreens(remembered: Rectangle | undefined, screens: readonly Rectangle[]): WindowPlace {
  const screen = screens.find((one) => remembered !== undefined && showsTitle(remembered, one)) ?? screens[0];
  const limits = {
    minWidth: Math.min(smallest.width, screen?.width ?? smallest.width),
    minHeight: Math.min(smallest.height, screen?.height ?? smallest.height),
  };
  const wanted = remembered ?? usual;
  const width = Math.max(limits.minWidth, Math.min(wanted.width, screen?.width ?? wanted.width));
  const height = Math.max(limits.minHeight, Math.min(wanted.height, screen?.height ?? wanted.height));
  if (remembered === undefined || screen === undefined || !showsTitle(remembered, screen)) return { width, height, ...limits };
  const x = Math.min(Math.max(remembered.x, screen.x), screen.x + screen.width - width);
  const y = Math.min(Math.max(remembered.y, screen.y), screen.y + screen.height - height);
  return { x, y, width, height, ...limits };
}

/** Enough of the title bar to take hold of. */
function showsTitle(window: Rectangle, screen: Rectangle): boolean {
  const across = Math.min(window.x + window.width, screen.x + screen.width) - Math.max(window.x, screen.x);
  return across >= 100 && window.y >= screen.y - 50 && window.y <= screen.y + screen.height - 50;
}
