/** What a picture is made of, for the window and for paper alike. */

/** `look` is a class of the style sheet: no colour is said here. */
export type PictureMark =
  | { readonly kind: 'path'; readonly d: string; readonly look: string; readonly width?: number }
  | { readonly kind: 'circle'; readonly x: number; readonly y: number; readonly r: number; readonly look: string; readonly width?: number }
  | {
      readonly kind: 'text';
      /** the strong figure of this item */
      readonly item?: string;
      readonly x: number;
      readonly y: number;
      readonly text: string;
      readonly look: string;
      readonly anchor?: 'start' | 'middle' | 'end';
      readonly size?: number;
    };

export type Picture = { readonly width: number; readonly height: number; readonly marks: readonly PictureMark[] };

/** A length in a path: three decimals are below what any printer shows. */
export const writtenLength = (value: number): string => String(Number(value.toFixed(3)));
