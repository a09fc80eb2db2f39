import { countOf } from '../../format/format.ts';
import { Segmented } from '../../parts/segmented.tsx';
import type { DiscWorkspaceProps } from '../../shell/workspace.ts';
import { useLasting } from '../../state/kept.ts';
import { ArrowsView } from '../arrows/arrows-view.tsx';
import { CalculatorView } from '../calculator/calculator-view.tsx';
import { CorrectionsView } from '../corrections/corrections-view.tsx';
import { AroundView } from '../index/around-view.tsx';
import { SequenceView } from '../sequence/sequence-view.tsx';
import { evaluatedWords } from './evaluated.ts';
import { NoDiagnosis } from './no-diagnosis.tsx';
import { Overview } from './overview.tsx';
import type { Topic } from './topics.ts';
import './causes.css';

const topics: readonly Topic[] = [
  { name: 'overview', title: 'Causes', View: Overview },
  { name: 'corrections', title: 'Corrections', View: CorrectionsView },
  { name: 'around', title: 'Around the disc', View: AroundView },
  { name: 'sequence', title: 'Weld sequence', View: SequenceView },
  { name: 'arrows', title: 'Arrows', View: ArrowsView },
  { name: 'calculator', title: 'Calculator', View: CalculatorView },
];

/** Why stations run out, and what to correct before the next disc. */
export function CausesView(props: DiscWorkspaceProps) {
  const { disc } = props;
  const { diagnosis } = disc.result;
  const [name, setName] = useLasting('causes-topic', 'overview');
  const topic = topics.find((entry) => entry.name === name) ?? topics[0];
  if (diagnosis === null || topic === undefined)
    return (
      <main className="causes-view">
        <header className="topics">
          <Segmented
            title="Page"
            value={name === 'calculator' ? name : 'overview'}
            onChange={setName}
            choices={[
              ['overview', 'Causes', 'Causes'],
              ['calculator', 'Calculator', 'Calculator'],
            ]}
          />
        </header>
        {name === 'calculator' ? (
          <CalculatorView {...props} />
        ) : props.session.before === null ? (
          <NoDiagnosis disc={disc} />
        ) : (
          <section className="no-diagnosis panel" role="status" aria-label="Causes">
            <h2>Causes and corrections are being looked for …</h2>
          </section>
        )}
      </main>
    );
  return (
    <main className="causes-view">
      <header className="topics">
        <Segmented
          title="Page"
          value={topic.name}
          onChange={setName}
          choices={topics.map((entry) => [entry.name, entry.title, entry.title] as const)}
        />
        <p className="topics-note">
          {evaluatedWords(disc, diagnosis.stations) ?? countOf(diagnosis.stations.length, 'station')},
          intervals at {Math.round(100 * diagnosis.coverage)} %, false discovery rate{' '}
          {Math.round(100 * diagnosis.falseDiscoveryRate)} %
        </p>
      </header>
      <topic.View {...props} diagnosis={diagnosis} />
    </main>
  );
}
