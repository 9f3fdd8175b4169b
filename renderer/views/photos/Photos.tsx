import { useState } from 'react';
import { PHOTO, type Photo } from '../../../shared/geometry/photo.ts';
import { photoWords as words } from '../../../shared/words/geometry/lead.ts';
import { useParts } from '../../app-parts.ts';
import { uploadFile } from '../../backend/upload-file.ts';
import { useAnswerOrProblem } from '../../queries/use-answer.ts';
import { FileButton } from '../../components/FileButton.tsx';
import { Sure } from '../records/Sure.tsx';
import type { VisitHere } from '../visit/use-visit.ts';
import { makeSmaller } from './make-smaller.ts';
import './Photos.css';

/** Photos of the burner as it was found: attached, looked at, taken out. What is listed is on the disk. */
export function Photos({ here: { visit, may } }: { here: VisitHere }) {
  const { actions } = useParts();
  const [said, setSaid] = useState<string>();
  const [isBusy, setBusy] = useState(false);
  const [leaves, setLeaves] = useState<Photo>();
  const photos = visit.setUp.geometry?.photoFiles ?? [];
  const attach = async (file: File): Promise<string | undefined> => {
    const smaller = await makeSmaller(file);
    if (smaller === 'foreign') return words.foreign(file.name);
    if (smaller === 'too-big') return words.tooBig(file.name);
    const handed = await uploadFile(smaller);
    if (typeof handed === 'string') return handed === 'disk-full' ? words.diskFull : words.failed(file.name);
    const name = file.name.trim().slice(-120).trim() || words.unnamed;
    return (await actions.ask('photo.attach', { id: visit.id, upload: handed.upload, name })) === undefined
      ? words.failed(file.name)
      : undefined;
  };
  const attachAll = async (files: readonly File[]): Promise<void> => {
    setBusy(true);
    setSaid(words.attaching(files.length));
    const room = PHOTO.most - photos.length;
    const wrong: string[] = files.length > room ? [words.most(PHOTO.most)] : [];
    // one after the other: each is on the disk before the next is read
    for (const file of files.slice(0, room)) {
      // a file that went away since it was chosen
      const why = await attach(file).catch(() => words.failed(file.name));
      if (why !== undefined) wrong.push(why);
    }
    setSaid(wrong.length === 0 ? words.attached(files.length) : wrong.join(' '));
    setBusy(false);
  };
  const takeOut = async ({ sha256, name }: Photo): Promise<void> => {
    setLeaves(undefined);
    if ((await actions.ask('photo.remove', { id: visit.id, sha256 })) !== undefined) setSaid(words.takenOut(name));
  };
  return (
    <section className="photos" aria-label={words.title}>
      <div className="row photos-tools">
        <FileButton
          text={words.attach}
          accept="image/jpeg,image/png"
          multiple
          disabled={!may || isBusy || photos.length >= PHOTO.most}
          choose={(files) => void attachAll(files)}
        />
        <p className="second small">{words.about}</p>
      </div>
      <p role="status">{said}</p>
      <ul>
        {photos.map((photo) => (
          <li key={photo.sha256}>
            <Shown visitId={visit.id} photo={photo} />
            <span className="photo-name">{photo.name}</span>
            <button type="button" className="button" disabled={!may || isBusy} onClick={() => setLeaves(photo)}>
              {words.takeOut}
              <span className="hidden-text"> {photo.name}</span>
            </button>
          </li>
        ))}
      </ul>
      {leaves !== undefined && (
        <Sure
          title={words.sure(leaves.name)}
          about={words.sureAbout}
          yes={words.takeOut}
          run={() => void takeOut(leaves)}
          close={() => setLeaves(undefined)}
        />
      )}
    </section>
  );
}

/** Asked for once; a photo never changes. */
function Shown({ visitId, photo: { sha256, name, width, height } }: { visitId: string; photo: Photo }) {
  const answer = useAnswerOrProblem('photo.get', { id: visitId, sha256 }, { when: 'once' });
  if (answer === undefined) return <p className="photo-none small">{words.loading}</p>;
  const { url, why = 'missing' } = 'value' in answer ? answer.value : {};
  if (url === undefined) return <p className="photo-none small">{words.notHere[why]}</p>;
  return <img src={url} alt={words.alt(name)} width={width} height={height} />;
}
