import { useState } from 'react';
import type { UploadKind } from '../../../../shared/ipc/handshake.ts';
import { keepingWords } from '../../../../shared/words/records/copies.ts';
import { useApp, useParts } from '../../../app-parts.ts';
import { saveDownload } from '../../../backend/save-download.ts';
import { uploadFile } from '../../../backend/upload-file.ts';
import { FileButton } from '../../../components/FileButton.tsx';
import { Copies } from './Copies.tsx';
import { Sure } from '../Sure.tsx';
import '../records.css';
import './upkeep.css';

const words = keepingWords;
const ZIP = '.zip,application/zip';

/** Backup, restore, moving between computers, and how long to keep. Each says what it did in one sentence. */
export function BackupAndUpkeep() {
  const { actions } = useParts();
  const folder = useApp((state) => state.host?.dataFolder);
  const mayChange = useApp((state) => state.role !== 'viewer');
  const [busy, setBusy] = useState(false);
  const [said, setSaid] = useState('');
  const [chosen, setChosen] = useState<File | string>();
  const [round, setRound] = useState(0);

  const during = async (work: () => Promise<string | undefined>, meanwhile = ''): Promise<void> => {
    setBusy(true);
    setSaid(meanwhile);
    setSaid((await work()) ?? '');
    setBusy(false);
    setRound((count) => count + 1);
  };
  const makeBackup = (): Promise<void> =>
    during(async () => {
      const made = await actions.ask('backup.make', {});
      if (made === undefined) return undefined;
      saveDownload(made.download, made.fileName);
      return words.made(made.fileName);
    }, words.making);
  const handIn = async (file: File, kind: UploadKind): Promise<string | { upload: string }> => {
    const uploaded = await uploadFile(file, kind);
    if (uploaded === 'disk-full') return words.diskFull;
    return uploaded === 'too-big' ? words.tooBig : uploaded === 'failed' ? words.failed : uploaded;
  };
  /** a file that is handed in, or a backup of the data folder by its name */
  const restore = (from: File | string): Promise<void> => {
    setChosen(undefined);
    return during(async () => {
      const source = typeof from === 'string' ? { copy: from } : await handIn(from, 'backup');
      if (typeof source === 'string') return source;
      const done = await actions.ask('backup.restore', source);
      return done && words.restored(done.files, done.kept);
    }, words.restoring);
  };
  const takeIn = (file: File): Promise<void> =>
    during(async () => {
      const uploaded = await handIn(file, 'file');
      if (typeof uploaded === 'string') return uploaded;
      const count = await actions.ask('visit.import', uploaded);
      return count && words.movedIn(count);
    });

  return (
    <div className="records-keeping">
      <h1>{words.title}</h1>
      <p className="records-said" role="status">
        {said}
      </p>
      <section>
        <h2>{words.backup}</h2>
        <p>{words.backupAbout}</p>
        <button type="button" className="button" disabled={busy || !mayChange} onClick={() => void makeBackup()}>
          {words.makeBackup}
        </button>
      </section>
      <section>
        <h2>{words.restore}</h2>
        <p>{words.restoreAbout}</p>
        <FileButton text={words.chooseBackup} disabled={busy || !mayChange} accept={ZIP} choose={([file]) => setChosen(file)} />
      </section>
      <section>
        <h2>{words.move}</h2>
        <p>{words.moveAbout}</p>
        <FileButton text={words.chooseVisits} disabled={busy || !mayChange} accept={ZIP} choose={([file]) => void takeIn(file)} />
      </section>
      <section>
        <h2>{words.retention}</h2>
        {words.retentionAbout.map((line) => (
          <p key={line}>{line}</p>
        ))}
      </section>
      <Copies round={round} busy={busy} restore={setChosen} />
      <section>
        <h2>{words.folder}</h2>
        <p>
          <span className="mono">{folder}</span>
          <br />
          <span className="second">{words.folderAbout}</span>
        </p>
      </section>
      {chosen !== undefined && (
        <Sure
          title={words.restoreSure}
          about={words.restoreSureAbout(typeof chosen === 'string' ? chosen : chosen.name)}
          yes={words.yesRestore}
          run={() => restore(chosen)}
          close={() => setChosen(undefined)}
        />
      )}
    </div>
  );
}
