import { BLADE_AXES } from '../../../shared-math/frame/axis-names.ts';
import { textAt } from './draft.ts';
import { FieldGrid, FieldView } from './fields/field-view.tsx';
import {
  associationFields,
  budgetFields,
  decisionFields,
  discFields,
  identityFields,
  inspectionFields,
  limitFields,
  poseField,
  positionFields,
  relatingFields,
  seatFields,
  temperatureFields,
  uncertaintyFields,
} from './fields.ts';
import { usePlanContext } from './plan-context.tsx';
import { Adjustments } from './sections/adjustments.tsx';
import { CheckPoints, PatternMotions } from './sections/check-points.tsx';
import { DatumList } from './sections/datum-list.tsx';
import { Characteristics, OtherBudgetLines } from './sections/other-lists.tsx';
import { PlanText } from './sections/plan-text.tsx';
import { SingleStations } from './sections/single-stations.tsx';
import { StartSection } from './sections/start-section.tsx';
import { ringWords } from './shape-hints.ts';

/** The part of the plan that is being written. */
export function PlanForm({ section }: { readonly section: string }) {
  const { draft, preview } = usePlanContext();
  switch (section) {
    case 'start':
      return <StartSection />;
    case 'identity':
      return (
        <>
          <Block title="The part">
            <FieldGrid fields={identityFields} />
          </Block>
          <Block title="The inspection">
            <FieldGrid fields={inspectionFields} />
          </Block>
        </>
      );
    case 'disc':
      return (
        <Block hint="The disc frame is built from the hub datums: +Z along the disc axis, angles by the right-hand rule about it. Uneven angles are listed under Single stations.">
          <FieldGrid fields={discFields} />
        </Block>
      );
    case 'hub':
      return (
        <>
          <p className="block-hint lead">
            In the order of the drawing’s frame. Each datum takes from the disc frame what the ones before it
            left; all six freedoms must be fixed in the end.
          </p>
          <DatumList owner="disc" />
        </>
      );
    case 'seat':
      return (
        <Block hint="Where the drawing puts the blade origin, and how the blade frame is turned there. It is the same for all stations; exceptions go under Single stations.">
          <FieldGrid fields={seatFields} />
          <p className="block-hint">{ringWords(preview)}</p>
        </Block>
      );
    case 'blade':
      return (
        <>
          <FieldView field={poseField} />
          <p className="block-hint lead">
            Features of one blade, nominal in the blade frame: {BLADE_AXES.x} o, {BLADE_AXES.y} l,{' '}
            {BLADE_AXES.z} u.
            {textAt(draft, ['blade', 'pose']) === 'bestfit' &&
              ' A best fit takes all of them at once; their order does not count.'}
          </p>
          <DatumList owner="blade" />
        </>
      );
    case 'position':
      return (
        <>
          <Block title="Zone">
            <FieldGrid fields={positionFields} />
          </Block>
          <CheckPoints owner={['blade', 'position']} />
          <Block
            title="Second level"
            hint="Where the drawing limits the position of the blades relative to each other more tightly."
          >
            <FieldGrid fields={relatingFields} />
            <PatternMotions />
          </Block>
        </>
      );
    case 'limits':
      return (
        <>
          <Block
            title="The six errors of the blade"
            hint="Limits on the size of each error, either way. Leave empty what the drawing does not limit. Another unit may be written behind a number, as in 25 µm or 1.7′."
          >
            <FieldGrid fields={limitFields.slice(0, 6)} />
          </Block>
          <Block title="The same error in the disc’s words">
            <FieldGrid fields={limitFields.slice(6)} />
          </Block>
        </>
      );
    case 'stations':
      return <SingleStations />;
    case 'measurement':
      return (
        <>
          <Block title="Uncertainty of measurement">
            <FieldGrid fields={uncertaintyFields} />
          </Block>
          <Block title="Decision">
            <FieldGrid fields={decisionFields} />
          </Block>
          <Block title="Temperature">
            <FieldGrid fields={temperatureFields} />
          </Block>
          <Block title="Features and their points">
            <FieldGrid fields={associationFields} />
          </Block>
        </>
      );
    case 'budget':
      return (
        <>
          <Block
            title="Budget of the position tolerance"
            hint="What each cause may use up, in mm of position. The causes view holds what is found against it."
          >
            <FieldGrid fields={budgetFields} />
          </Block>
          <OtherBudgetLines />
          <Block
            title="What can be set before the next disc"
            hint="Without any entry here everything may be set, without bounds. As soon as one is made, only what is listed can be set."
          >
            <Adjustments />
          </Block>
        </>
      );
    case 'characteristics':
      return <Characteristics />;
    default:
      return <PlanText />;
  }
}

interface BlockProps {
  readonly title?: string;
  readonly hint?: string;
  readonly children: React.ReactNode;
}

function Block({ title, hint, children }: BlockProps) {
  return (
    <section className="block">
      {title !== undefined && <h3>{title}</h3>}
      {hint !== undefined && <p className="block-hint">{hint}</p>}
      {children}
    </section>
  );
}
