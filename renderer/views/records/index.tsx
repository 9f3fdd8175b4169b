import { NotThereYet } from '../../components/NotThereYet.tsx';

export default function RecordsWorkspace() {
  return <NotThereYet workspace="records" />;
}
