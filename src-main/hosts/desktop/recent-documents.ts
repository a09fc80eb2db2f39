import { app } from 'electron';
import { createRecentList } from '../../session/recent-list.ts';

/** Gives the session that was used last to the system's own list of recent documents, where the system keeps one. */
export function recentDocuments(stateFolder: string): () => void {
  const list = createRecentList(stateFolder);
  return () => {
    const [latest] = list.entries();
    if (latest !== undefined) app.addRecentDocument(latest.path);
  };
}
