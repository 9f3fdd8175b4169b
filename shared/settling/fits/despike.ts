/**
 * Median-of-three test with one sample of delay: a value that stands out from both neighbours by far more than the noise, while the
 * neighbours agree, is replaced by their mean. A step is not a spike: there the neighbours differ.
 */
export function createDespike(push: (timeMs: number, value: number) => void) {
  let beforeValue: number | undefined;
  let heldTime = 0;
  let heldValue: number | undefined;
  let scale = 0;
  let count = 0;
  return {
    add(timeMs: number, value: number, quantum: number): void {
      if (heldValue === undefined) {
        heldTime = timeMs;
        heldValue = value;
        return;
      }
      let out = heldValue;
      if (beforeValue !== undefined) {
        const apart = Math.abs(heldValue - (beforeValue + value) / 2);
        const neighbours = Math.abs(beforeValue - value);
        if (count > 4 && apart > 6 * scale + 2.1 * quantum && neighbours < 0.3 * apart) out = (beforeValue + value) / 2;
        else {
          count = Math.min(count + 1, 30);
          scale += (Math.min(apart, 3 * scale + quantum + (count < 5 ? apart : 0)) - scale) / count;
        }
      }
      push(heldTime, out);
      beforeValue = out;
      heldTime = timeMs;
      heldValue = value;
    },
    /** Lets the held sample go (the block is about to close and the next sample is far). */
    flush(): void {
      if (heldValue !== undefined) push(heldTime, heldValue);
      beforeValue = heldValue;
      heldValue = undefined;
    },
    reset(): void {
      beforeValue = undefined;
      heldValue = undefined;
    },
  };
}
