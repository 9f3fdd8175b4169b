/**
 * What is set with a gauge before there is a flame. A length is a distance between two parts, in mm inside and as typed outside; a scale
 * is a position on the burner's own marks.
 */
export const geometryItems = {
  /** between the two tips, or from the one tip to the nozzle's earthed face */
  electrodeGap: { kind: 'length', tooSmall: 'spread-tips', tooLarge: 'close-tips' },
  /** tips above the nozzle's centreline */
  heightAboveCentreline: { kind: 'length', tooSmall: 'raise-tips', tooLarge: 'lower-tips' },
  /** tips ahead of the nozzle's face */
  aheadOfNozzle: { kind: 'length', tooSmall: 'move-tips-forward', tooLarge: 'move-tips-back' },
  /** from a tip to the nearest metal that is not the other tip */
  tipToMetal: { kind: 'length', tooSmall: 'move-tips-from-metal', tooLarge: 'move-tips-to-metal' },
  /** the higher tip less the lower one */
  tipDifference: { kind: 'length', tooSmall: 'level-tips', tooLarge: 'level-tips' },
  /** nozzle's face to the head */
  nozzleToHead: { kind: 'length', tooSmall: 'move-nozzle-back', tooLarge: 'move-nozzle-forward' },
  /** the nozzle's axis beside the head's centre */
  offCentre: { kind: 'length', tooSmall: 'centre-nozzle', tooLarge: 'centre-nozzle' },
  /** the head behind the end of the tube, with the adjuster at zero: this distance makes the zero */
  headToTubeEnd: { kind: 'length', tooSmall: 'move-head-back', tooLarge: 'move-head-forward' },
  headSetting: { kind: 'scale', tooSmall: 'set-to', tooLarge: 'set-to' },
  shutterStart: { kind: 'scale', tooSmall: 'set-to', tooLarge: 'set-to' },
  bandStart: { kind: 'scale', tooSmall: 'set-to', tooLarge: 'set-to' },
} as const satisfies Record<string, { kind: 'length' | 'scale'; tooSmall: string; tooLarge: string }>;

export type GeometryItem = keyof typeof geometryItems;
export type Direction = (typeof geometryItems)[GeometryItem]['tooSmall' | 'tooLarge'];

export const itemNames = Object.keys(geometryItems) as [GeometryItem, ...GeometryItem[]];
export const isLength = (item: GeometryItem): boolean => geometryItems[item].kind === 'length';
export const lengthItems = itemNames.filter(isLength);
/** The positions that a card gives for each nozzle flow. */
export const flowItems = ['headSetting', 'shutterStart', 'bandStart'] as const satisfies readonly GeometryItem[];
export type FlowItem = (typeof flowItems)[number];
