/** The desktop shell as a journey sees it. Two ways to have one: a real Electron, or the shell in plain Node over a stand-in for Electron. */
import type { Page } from 'playwright-core';

export type ShellOptions = {
  /** go on in the folder of an earlier start */
  readonly dataFolder?: string;
  readonly args?: readonly string[];
};

/** A message box that the app shows; it stays until it is answered. */
export type Question = { readonly message: string; readonly detail: string; readonly buttons: readonly string[] };

export interface Shell {
  readonly dataFolder: string;
  /** where "Documents" of this person are */
  readonly documents: string;
  readonly pid: number;
  /** the main window's page */
  page(): Promise<Page>;
  /** the text in the main window now, also after its page has crashed and was loaded anew; '' while there is none */
  text(): Promise<string>;
  windows(): number | Promise<number>;
  isVisible(): Promise<boolean>;
  /** presses the cross of the main window; does not wait for what comes of it */
  pressCross(): Promise<void>;
  /** waits for the next message box */
  question(): Promise<Question>;
  answer(question: Question, button: string): Promise<void>;
  /** presses Save in the system's save dialog, which is open or about to open */
  pressSave(): Promise<void>;
  crashPage(): Promise<void>;
  isKeptAwake(): Promise<boolean>;
  /** starts the app once more in the same folder. @returns its exit code */
  startAgain(args: readonly string[], folder?: string): Promise<number | null>;
  /** waits until the app has ended. @returns its exit code */
  ended(): Promise<number | null>;
  /** kills what is left and removes the folders, except a data folder that was handed in */
  clear(): Promise<void>;
}
