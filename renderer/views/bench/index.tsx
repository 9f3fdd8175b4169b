import { NotThereYet } from '../../components/NotThereYet.tsx';

export default function BenchWorkspace() {
  return <NotThereYet workspace="bench" />;
}
