// The window on a fake host, for looking at: ?scene=live&theme=dark&units=metric
import '../../../renderer/look/index.css';
import { startWindow } from '../../../renderer/start-window.tsx';
import { createFakeBackend } from '../helpers/fake-backend.ts';
import type { Scene } from '../helpers/fake-run.ts';

const query = new URLSearchParams(location.search);
const backend = createFakeBackend((query.get('scene') ?? 'live') as Scene, {
  live: query.get('live') !== '0',
  theme: query.get('theme') === 'light' ? 'light' : 'dark',
  units: query.get('units') === 'us' ? 'us' : 'metric',
});
const started = startWindow(document.getElementById('root') as HTMLElement, backend.transport);
Object.assign(window, { preview: { ...started, backend } });
