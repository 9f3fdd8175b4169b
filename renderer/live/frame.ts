/** One animation-frame loop for the whole window. It sleeps until something asks for a frame. */
type Draw = () => void;

export type Frames = {
  /** @returns a function that stops drawing */
  onFrame(draw: Draw): () => void;
  request: () => void;
};

export function createFrames(schedule: (run: () => void) => void = (run) => void requestAnimationFrame(run)): Frames {
  const draws = new Set<Draw>();
  let asked = false;
  const run = (): void => {
    asked = false;
    for (const draw of draws) draw();
  };
  const request = (): void => {
    if (asked) return;
    asked = true;
    schedule(run);
  };
  return {
    onFrame(draw) {
      draws.add(draw);
      request();
      return () => draws.delete(draw);
    },
    request,
  };
}
