/** F6: from region to region, in reading order. */
const order = ['source', 'tools', 'main', 'right', 'alert', 'bar'] as const;
const focusable = 'button:not(:disabled):not([tabindex="-1"]), [tabindex="0"], input, select, a[href]';

export function focusNextRegion(): void {
  const present = order.flatMap((name) => {
    const region = document.querySelector<HTMLElement>(`[data-region="${name}"]`);
    return region === null || region.offsetParent === null ? [] : [region];
  });
  const current = present.findIndex((region) => region.contains(document.activeElement));
  for (let step = 1; step <= present.length; step++) {
    const region = present[(current + step) % present.length];
    if (region === undefined) return;
    const target = region.querySelector<HTMLElement>(focusable);
    if (target !== null) return target.focus();
    region.tabIndex = -1;
    return region.focus();
  }
}
