/** Which part, which measurement, which files. */
import { type Block, heading, type Inline } from '../document.ts';
import { type Context, quiet, timeText } from './context.ts';

export function identification({ m, plan, result, welds, time }: Context): readonly Block[] {
  const words = m.identification;
  const { source } = result;
  const stated = (value: string | undefined): Inline => value ?? quiet(m.notStated);
  const pair = (key: string, value: Inline) => ({ key, value });
  const tools = [...new Set((welds ?? []).map(({ tool }) => tool).filter((tool) => tool !== ''))].sort();
  return [
    heading(2, words.title),
    {
      kind: 'keyValues',
      columns: 2,
      pairs: [
        pair(words.name, stated(plan.part['name'])),
        pair(words.number, stated(plan.part['number'])),
        pair(words.revision, stated(plan.part['revision'])),
        pair(words.serial, stated(plan.part['serial'])),
        pair(words.material, stated(plan.part['material'])),
        pair(words.plan, plan.title === '' ? quiet(m.notStated) : plan.title),
        pair(words.welds, welds === null ? quiet(words.noWelds) : words.weldCounts(welds.length, tools)),
        pair(words.made, timeText(time)),
        pair(words.machine, stated(plan.inspection['machine'])),
        pair(words.program, stated(plan.inspection['program'])),
        pair(words.operator, stated(plan.inspection['operator'])),
        pair(words.date, stated(plan.inspection['date'])),
        pair(words.calibrationDue, stated(plan.inspection['calibrationDue'])),
        pair(words.points, source.points.name),
        pair(words.planFile, source.plan.name),
        pair(words.software, `Hubtrue ${source.software}`),
      ],
    },
  ];
}
