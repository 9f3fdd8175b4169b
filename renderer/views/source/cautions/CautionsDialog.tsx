import { source } from '../../../../shared/words/source.ts';
import { Dialog, DialogFoot } from '../../../components/Dialog.tsx';
import { CautionTexts } from './CautionTexts.tsx';
import { useReadCautions } from './use-read-cautions.ts';
import '../source.css';

/** A real burner is about to be measured and nobody has read the cautions yet: they come first. */
export function CautionsDialog() {
  const read = useReadCautions();
  return (
    <Dialog title={source.cautionsTitle} submit={read} foot={<DialogFoot main={source.cautionsRead} first />}>
      <div className="caution-texts">
        <CautionTexts />
      </div>
    </Dialog>
  );
}
