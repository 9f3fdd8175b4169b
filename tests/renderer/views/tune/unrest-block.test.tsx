// @vitest-environment happy-dom
/** Each kind of unrest names its own channels, and what it usually is. */
import { cleanup, render, screen, within } from '@testing-library/react';
import { afterEach, expect, it } from 'vitest';
import { UnrestBlock } from '../../../../renderer/views/tune/UnrestBlock.tsx';
import { channelWords, unrestWords as words } from '../../../../shared/words/tune/states.ts';

afterEach(cleanup);

it('names the channels that drift and those that surge apart', () => {
  render(
    <UnrestBlock
      rows={[]}
      unrest={[
        { channel: 'o2', state: 'drifting', sinceMs: 0 },
        { channel: 'co', state: 'surging', sinceMs: 0 },
        { channel: 'stackTemperature', state: 'drifting', sinceMs: 0 },
      ]}
    />,
  );
  const sectionOf = (usually: string) => screen.getByText(usually).closest('section') as HTMLElement;
  const title = (usually: string) => within(sectionOf(usually)).getByRole('heading').textContent?.replace(/\s+/g, ' ');
  expect(title(words.usually.drifting)).toContain(words.how.drifting(`O2, ${channelWords.stackTemperature.name}`));
  expect(title(words.usually.surging)).toContain(words.how.surging('CO'));
});
