/**
 * Two-sided CUSUM on standardised innovations. `push` says whether the channel has left what its bank expects, and how many
 * blocks ago that began.
 *
 * @source Page, E. S., Biometrika 41 (1954) 100-115; drift and limit are ours, tuned on generated streams
 */
export function createChangeAlarm({ drift, limit, clip }: { drift: number; limit: number; clip: number }) {
  let up = 0;
  let down = 0;
  let upBlocks = 0;
  let downBlocks = 0;
  return {
    /** @returns 0, or the number of blocks since the change began (this one included) */
    push(z: number): number {
      const c = Math.max(-clip, Math.min(clip, z));
      up = Math.max(0, up + c - drift);
      down = Math.max(0, down - c - drift);
      upBlocks = up > 0 ? upBlocks + 1 : 0;
      downBlocks = down > 0 ? downBlocks + 1 : 0;
      if (up > limit) return upBlocks;
      if (down > limit) return downBlocks;
      return 0;
    },
    /** 0 calm .. 1 alarm */
    pressure: () => Math.max(up, down) / limit,
    reset() {
      up = 0;
      down = 0;
      upBlocks = 0;
      downBlocks = 0;
    },
  };
}
