/** The visits of this window, whose script comes after the first figure: what a visit needs is three times what a figure needs. */
import type { Client } from '../../shared/ipc/client.ts';
import type { AppStore } from '../state/store.ts';
import type { Visits } from './visits.ts';

/** @param when at the latest; a press that needs it comes before */
export function visitsLater(client: Client, store: AppStore, when: Promise<void>): Visits {
  let here: Visits | undefined;
  let loading: Promise<Visits> | undefined;
  const load = (): Promise<Visits> =>
    (loading ??= import('./visits.ts').then(
      ({ startVisits }) => (here = startVisits(client, store).visits),
      (reason: unknown) => {
        // asked for anew with the next press
        loading = undefined;
        throw reason;
      },
    ));
  void when.then(load);
  return {
    begin: async (kind) => (await load()).begin(kind),
    open: async (id) => (await load()).open(id),
    leave: async () => (await load()).leave(),
    sign: async (name) => (await load()).sign(name),
    close: async () => (await load()).close(),
    flush: async () => (await load()).flush(),
    findLast: async (applianceId) => (await load()).findLast(applianceId),
    // a visit is shown by what is loaded here: without it there is none to change
    edit: (changes) => here?.edit(changes),
    nowWallMs: () => here?.nowWallMs() ?? Date.now(),
    answerShift: (setting) => void load().then((visits) => visits.answerShift(setting)),
    watch: (test, act) => load().then((visits) => visits.watch(test, act)),
  };
}
