import { useState } from 'react';
import type { HubtrueApi, OpenedFile } from '../../../src-main/api.ts';
import { ScrollRegion } from '../../parts/scroll-region.tsx';
import { SheetTools } from '../../parts/sheet-tools.tsx';
import { differences } from './compare.ts';
import { type Draft, parseDraft } from './draft.ts';
import { sectionOf, sections } from './sections.ts';

interface CompareViewProps {
  readonly api: HubtrueApi;
  readonly draft: Draft;
  readonly name: string;
  /** The plan as it was opened or saved last, where there is one. */
  readonly saved: string | null;
  /** The plan of the disc on view, where it is another file. */
  readonly onView: OpenedFile | undefined;
}

interface Other {
  readonly name: string;
  readonly draft: Draft;
}

/** The plan at hand against another one: by path, what the other has and what this one has. */
export function CompareView({ api, draft, name, saved, onView }: CompareViewProps) {
  const [other, setOther] = useState<Other | null>(null);
  const [fault, setFault] = useState<string | null>(null);
  const show = (title: string, text: string): void => {
    const parsed = parseDraft(text);
    if (parsed.draft === null) setFault(`${title}: ${parsed.reason}`);
    else {
      setFault(null);
      setOther({ name: title, draft: parsed.draft });
    }
  };
  const open = async (file: OpenedFile): Promise<void> => {
    const outcome = await api.planText({ plan: file.ticket });
    if (outcome.ok) show(file.name, outcome.value.text);
    else setFault(outcome.problems.map(({ message }) => message).join(' '));
  };
  const choose = async (): Promise<void> => {
    const outcome = await api.chooseFiles();
    if (!outcome.ok) return setFault(outcome.problems.map(({ message }) => message).join(' '));
    const plan = outcome.value.find(({ role }) => role === 'plan');
    if (plan !== undefined) await open(plan);
    else if (outcome.value.length > 0) setFault('That is no plan.');
  };
  const found = other === null ? [] : differences(other.draft, draft);
  return (
    <div className="compare">
      <div className="row-buttons">
        <button type="button" className="button" onClick={() => void choose()}>
          Choose a plan file
        </button>
        {saved !== null && (
          <button type="button" className="button" onClick={() => show(`${name} as saved`, saved)}>
            {name} as saved
          </button>
        )}
        {onView !== undefined && (
          <button type="button" className="button" onClick={() => void open(onView)}>
            Plan of the disc on view
          </button>
        )}
      </div>
      {fault !== null && (
        <p className="field-fault" role="alert">
          {fault}
        </p>
      )}
      {other !== null && (
        <>
          <p role="status">
            {found.length === 0
              ? `No value differs from ${other.name}.`
              : `${found.length} ${found.length === 1 ? 'value differs' : 'values differ'} from ${other.name}.`}
          </p>
          {found.length > 0 && (
            <p className="table-tools">
              <SheetTools
                sheet={{
                  head: ['path', other.name, 'this plan'],
                  rows: found.map(({ path, before, after }) => [path, before ?? '', after ?? '']),
                }}
                fileName="plan-differences"
                of="the differences"
              />
            </p>
          )}
          {found.length > 0 && (
            <ScrollRegion className="table-scroll" label="Differences">
              <table className="difference-table">
                <thead>
                  <tr>
                    <th scope="col">Path</th>
                    <th scope="col">{other.name}</th>
                    <th scope="col">This plan</th>
                  </tr>
                </thead>
                <tbody>
                  {sections.flatMap(({ id, title }) => {
                    const own = found.filter(({ path }) => sectionOf(path) === id);
                    if (own.length === 0) return [];
                    return [
                      <tr key={id} className="group">
                        <th scope="rowgroup" colSpan={3}>
                          {title}
                        </th>
                      </tr>,
                      ...own.map(({ path, before, after }) => (
                        <tr key={path}>
                          <th scope="row">
                            <code>{path}</code>
                          </th>
                          <td className="before">{before ?? <i>not there</i>}</td>
                          <td className="after">{after ?? <i>not there</i>}</td>
                        </tr>
                      )),
                    ];
                  })}
                </tbody>
              </table>
            </ScrollRegion>
          )}
        </>
      )}
    </div>
  );
}
