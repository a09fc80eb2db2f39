import { StrictMode } from 'react';
import { createRoot } from 'react-dom/client';
import { App } from './app.tsx';
import { hostApi } from './host/host-api.ts';
import { warmUpMap } from './views/polar-map/warm-up.ts';
import './theme.css';
import './base.css';

const root = document.getElementById('root');
if (root === null) throw new Error('The page has no root element.');
const asked = new URLSearchParams(window.location.search);
createRoot(root).render(
  <StrictMode>
    <App api={hostApi()} firstSample={asked.get('sample')} firstWorkspace={asked.get('view')} />
  </StrictMode>,
);
// A disc that is asked for at once needs its map before there would be time for this.
if (asked.get('sample') === null) void warmUpMap();
