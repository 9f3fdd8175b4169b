import { NotThereYet } from '../../components/NotThereYet.tsx';

export default function WarmUpWorkspace() {
  return <NotThereYet workspace="warm-up" />;
}
