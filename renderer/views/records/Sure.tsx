import { common } from '../../../shared/words/common.ts';
import { Dialog } from '../../components/Dialog.tsx';

/** Asked before something goes that does not come back by itself. */
export function Sure({
  title,
  about,
  yes,
  run,
  close,
}: {
  title: string;
  about: string;
  yes: string;
  run: () => void | Promise<unknown>;
  close: () => void;
}) {
  return (
    <Dialog
      title={title}
      close={close}
      submit={run}
      foot={
        <>
          <span className="grow" />
          <button type="button" className="button" data-first="" onClick={close}>
            {common.cancel}
          </button>
          <button type="submit" className="button">
            {yes}
          </button>
        </>
      }
    >
      <p>{about}</p>
    </Dialog>
  );
}
