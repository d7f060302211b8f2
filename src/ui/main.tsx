import './style.css';
import { render } from 'preact';
import { startServiceWorker } from '../browser/startServiceWorker.ts';
import { App } from './App.tsx';
import { boot, offlineReady } from './state/app.ts';

render(<App />, document.getElementById('app') as HTMLElement);
void boot();
if (import.meta.env.PROD) {
  startServiceWorker((complete) => {
    offlineReady.value = complete;
  });
}
