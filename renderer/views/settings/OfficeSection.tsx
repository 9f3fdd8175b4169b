import { useState } from 'react';
import { formatDay } from '../../../shared/format/date.ts';
import { OfficeChoice, officeKinds } from '../../../shared/ipc/office-commands.ts';
import { officeWords as words } from '../../../shared/words/records/office.ts';
import { useApp, useParts } from '../../app-parts.ts';
import { Check, Choice, Field } from '../../components/Field.tsx';
import { useOfficeState } from '../records/upkeep/use-office.ts';
import { problems } from '../../../shared/words/problems.ts';

/** Where visits are shared. Nothing is used before the person says so: what is typed here is tried first. */
export function OfficeSection() {
  const { actions, client } = useParts();
  const saved = useApp((state) => state.settings.office);
  const mayChange = useApp((state) => state.role !== 'viewer');
  const state = useOfficeState();
  const [draft, setDraft] = useState<OfficeChoice>(saved);
  const [port, setPort] = useState(String(saved.port));
  const [password, setPassword] = useState('');
  const [said, setSaid] = useState('');
  const [isBusy, setIsBusy] = useState(false);
  const set = (part: Partial<OfficeChoice>): void => setDraft({ ...draft, ...part });
  const typedPort = OfficeChoice.shape.port.safeParse(Number(port)).data;
  const choice = (): OfficeChoice => ({ ...draft, port: typedPort ?? draft.port });
  const during = async (work: () => Promise<string>): Promise<void> => {
    setIsBusy(true);
    setSaid(words.testing);
    setSaid(await work());
    setIsBusy(false);
  };
  const test = (): Promise<void> =>
    during(async () => {
      if (draft.kind === 'postgres' && typedPort === undefined) return words.badPort(port);
      const tried = await client.call('office.test', { choice: choice(), ...(password !== '' && { password }) });
      if (tried.ok) return words.tested(tried.value.name, tried.value.items, tried.value.clockAheadMs);
      const { code, detail } = tried.error;
      return [problems[code].title, detail, problems[code].nextStep].filter(Boolean).join(' ');
    });
  const use = (): Promise<void> =>
    during(async () => {
      if (draft.kind === 'postgres' && typedPort === undefined) return words.badPort(port);
      await actions.changeSettings({ office: choice() });
      if (password !== '') await actions.ask('office.password', { password });
      return '';
    });
  const leave = (): Promise<void> =>
    during(async () => {
      await actions.ask('office.password', { password: '' });
      setDraft({ ...draft, kind: 'none' });
      await actions.changeSettings({ office: { ...saved, kind: 'none' } });
      return '';
    });
  const isServer = draft.kind === 'postgres';
  return (
    <section className="column gap-3" aria-label={words.title}>
      <h2>{words.title}</h2>
      <p className="second">{words.about}</p>
      <Choice
        label={words.kind}
        value={draft.kind}
        options={officeKinds.map((value) => ({ value, text: words.kinds[value] }))}
        change={(kind) => set({ kind })}
      />
      {draft.kind === 'folder' && (
        <Field label={words.folder} value={draft.folder} numeric={false} change={(folder) => set({ folder })} hint={words.folderHint} />
      )}
      {isServer && (
        <>
          <Field label={words.host} value={draft.host} numeric={false} change={(host) => set({ host })} />
          <Field label={words.port} value={port} change={setPort} width={120} />
          <Field label={words.database} value={draft.database} numeric={false} change={(database) => set({ database })} />
          <Field label={words.user} value={draft.user} numeric={false} change={(user) => set({ user })} />
          <Field
            label={words.certificate}
            value={draft.certificateFile}
            numeric={false}
            change={(certificateFile) => set({ certificateFile })}
            hint={words.certificateHint}
          />
          <PasswordField value={password} change={setPassword} isKept={state?.keepsPassword === true} />
          <Check label={words.withoutTls} checked={draft.withoutTls} change={(withoutTls) => set({ withoutTls })} />
        </>
      )}
      {draft.kind !== 'none' && (
        <>
          <Check label={words.takesAll} checked={draft.takesAll} change={(takesAll) => set({ takesAll })} />
          <p className="second">{words.joining}</p>
          <div className="form-row">
            <button type="button" className="button" disabled={isBusy || !mayChange} onClick={() => void test()}>
              {words.test}
            </button>
            <button type="button" className="button" disabled={isBusy || !mayChange} onClick={() => void use()}>
              {words.use}
            </button>
          </div>
        </>
      )}
      <p role="status">{said}</p>
      {saved.kind !== 'none' && state !== undefined && (
        <>
          <p>
            {words.phases[state.phase]} {words.queued(state.queued)}
          </p>
          {state.problem !== undefined && (
            <p className="second">
              {[problems[state.problem.code].title, state.problem.detail, problems[state.problem.code].nextStep].filter(Boolean).join(' ')}
            </p>
          )}
          {state.lastWallMs !== undefined && (
            <p className="second">{words.last(formatDay(state.lastWallMs, -new Date(state.lastWallMs).getTimezoneOffset()))}</p>
          )}
          {state.clockAheadMs !== undefined && <p className="second">{words.clockOff(state.clockAheadMs)}</p>}
          {state.wrong > 0 && <p className="second">{words.wrong(state.wrong)}</p>}
          <div className="form-row">
            <button type="button" className="button" disabled={!mayChange} onClick={() => void actions.ask('office.sync', {})}>
              {words.sync}
            </button>
            <button type="button" className="button" disabled={isBusy || !mayChange} onClick={() => void leave()}>
              {words.stop}
            </button>
          </div>
        </>
      )}
    </section>
  );
}

function PasswordField({ value, change, isKept }: { value: string; change: (text: string) => void; isKept: boolean }) {
  return (
    <div className="one-field">
      <label className="field-label" htmlFor="office-password">
        {words.password}
      </label>
      <div className="field">
        <input
          id="office-password"
          type="password"
          value={value}
          autoComplete="off"
          aria-describedby="office-password-note"
          onChange={(event) => change(event.target.value)}
        />
      </div>
      <div className="field-hint" id="office-password-note">
        {isKept ? words.passwordKept : words.passwordSession}
      </div>
    </div>
  );
}
