/** Work done with its defects, and air for combustion: the two parts of a visit that have a screen of their own. */
import { START_WALL_MS } from '../../helpers/visits/full-visit.ts';
import { press, readAny, settings, toStep, underWay, visitFolder, type States } from './parts.ts';

export const workAndAirStates: States = {
  // the words that the owner is told: work, defects left, the label
  'work-done': {
    options: {
      prepare: (folder) =>
        visitFolder(folder, (visit) => ({
          ...underWay(visit),
          safety: visit.safety,
          work: [
            { wallMs: START_WALL_MS, kind: 'nozzle', note: '0.65 gph 60° hollow, 140 psi', part: 'N-0065-60' },
            { wallMs: START_WALL_MS, kind: 'filter', note: 'canister and gasket', part: 'F-0011' },
            { wallMs: START_WALL_MS, kind: 'strainer', note: 'little dirt, no water' },
            { wallMs: START_WALL_MS, kind: 'gasket', part: 'G-0204' },
            { wallMs: START_WALL_MS, kind: 'passages', note: 'about 2 quarts of soot' },
            { wallMs: START_WALL_MS, kind: 'electrodes', note: 'gap 5/32 in, tips clean' },
            { wallMs: START_WALL_MS, kind: 'regulator', note: '−0.018 over the fire' },
          ],
          defects: [
            { wallMs: START_WALL_MS, text: 'Fire valve handle stiff', weight: 'repair-soon', tag: '0311' },
            { wallMs: START_WALL_MS, text: 'No cap on the chimney: rain can get in, the flue base is dry today', weight: 'advice' },
          ],
          ownerTold: { wallMs: START_WALL_MS, whom: 'J. Sample, owner', how: 'in-person' },
          nextDue: '2027-12-01',
        })),
    },
    begin: (host) => host.ask('visit.open', { id: 'visit-full' }),
    screens: [
      {
        name: 'work',
        open: async (page) => [await toStep(page, 'Report'), await readAny(page), await press(page, 'Work done and defects')],
      },
      { name: 'label', open: (page) => page.getByRole('region', { name: 'Label at the appliance' }).scrollIntoViewIfNeeded() },
    ],
  },
  // the draft of the simulated house with its fans off, then on
  'worst-case': {
    options: { prepare: (folder) => Promise.resolve(settings(folder)) },
    begin: async (host) => {
      const { runId } = await host.ask('run.start', { source: { kind: 'simulated', scenario: 'house-fans', seed: 3 } });
      await host.pass(700);
      await host.ask('visit.begin', { kind: 'training', runId });
    },
    screens: [
      {
        name: 'before',
        open: async (page) => [
          await toStep(page, 'Safety'),
          await readAny(page),
          await press(page, /^Air and venting/),
          await press(page, /^Worst case/),
        ],
      },
      { name: 'off', open: async (page, host) => [await press(page, /^Fans are off: begin/), await host.pass(100)] },
      { name: 'off-ready', open: (_, host) => host.pass(120) },
      { name: 'on', open: async (page, host) => [await press(page, /^Fans are on now/), await host.pass(60)] },
      { name: 'on-ready', open: (_, host) => host.pass(240) },
      { name: 'saved', open: async (page, host) => [await press(page, /^Save (worst case|as it stands)/), await host.pass(3)] },
    ],
  },
};
