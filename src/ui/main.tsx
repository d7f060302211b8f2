import './style.css';
import { render } from 'preact';
import { App } from './App.tsx';
import { boot } from './state/app.ts';

render(<App />, document.getElementById('app') as HTMLElement);
void boot();
if ('serviceWorker' in navigator && import.meta.env.PROD) void navigator.serviceWorker.register('/sw.js');
