import type { DecidedFinding, TreatOutcome } from '../../core/job/treat-song.js';
import type { StageSolved } from '../../core/solve/path-walk.js';
import type { Solution } from '../../core/solve/solve-song.js';
import { formatAddress } from '../../core/treatment/paths.js';
import { declarationOf } from '../../core/treatment/stage-registry.js';
import type { SettingDeclaration } from '../../core/treatment/stage.js';
import { statisticAt } from '../../core/wishes/statistics.js';
import { formatWish } from '../../core/wishes/wish-text.js';
import { numberText, valueText } from './figure-text.js';
import { formatTable, wrapText } from './table.js';

/** What would be done, or was solved, and why: the findings with what was decided, then the path stage by stage. */
export function planText(outcome: TreatOutcome, width: number): string {
  const parts = [decisionsText(outcome.findings, outcome.agreed, width)];
  if (outcome.solution !== null) {
    parts.push(outcome.agreed ? 'What was solved:\n' : 'What treating everything would do (expected, rendered):\n');
    parts.push(stagesText(outcome.solution.stages, width), remarksText(outcome.solution, width));
  }
  parts.push(...outcome.remarks.map((remark) => `${remark}\n`));
  return parts.filter((part) => part !== '').join('\n');
}

const ACTIONS = { treat: 'treat', leave: 'left', later: 'later', open: 'open' } as const;

function decisionsText(findings: readonly DecidedFinding[], agreed: boolean, width: number): string {
  if (findings.length === 0) return 'Nothing to mend.\n';
  const rows = findings.map(({ finding, action, reason }) => [
    finding.id,
    ACTIONS[action],
    `${finding.sentence}${reason === '' ? '' : ` (${reason})`} Leave it when: ${finding.leaveItWhen}`,
  ]);
  const table = formatTable([{ title: 'finding' }, { title: 'decided' }, { title: '' }], rows, width);
  if (agreed) return table;
  return `${table}\nNothing is done until you agree: --accept all, or --accept with the names of findings.\n`;
}

/** The path stage by stage: the settings, wanted and reached. */
export function stagesText(stages: readonly StageSolved[], width: number): string {
  const rows = stages.map((stage) => [
    formatAddress(stage.address),
    settingsText(stage),
    wantedText(stage.request.asked ?? stage.request.wish),
    resultText(stage, stage.solution.now),
    resultText(stage, stage.solution.reached),
  ]);
  const columns = [
    { title: 'stage' },
    { title: 'settings' },
    { title: 'wanted' },
    { title: 'now', align: 'right' as const },
    { title: 'expected', align: 'right' as const },
  ];
  return formatTable(columns, rows, width);
}

function wantedText(wish: StageSolved['request']['wish']): string {
  return wish === null ? '' : formatWish(wish);
}

function settingsText({ address, solution, request }: StageSolved): string {
  if (!solution.on) return 'off';
  const declared = declarationOf(address.stage).settings;
  const told = declared.filter(
    ({ key }) => key === solution.amountKey || request.given.has(key) || isFound(key, solution.settings, declared),
  );
  return told.map((setting) => settingText(setting, solution.settings[setting.key])).join(', ');
}

function isFound(
  key: string,
  settings: StageSolved['solution']['settings'],
  declared: readonly SettingDeclaration[],
): boolean {
  return settings[key] !== declared.find((setting) => setting.key === key)?.default;
}

function settingText({ name, unit, kind }: SettingDeclaration, value: number | string | boolean | undefined): string {
  if (kind === 'switch') return value === true ? name : `no ${name}`;
  if (typeof value !== 'number') return `${name} ${String(value)}`;
  const digits = unit === 'Hz' ? 0 : unit === '%' ? 0 : unit === 'ms' ? 2 : 1;
  return `${name} ${unit === '%' ? `${numberText(value, 0)} %` : valueText(value, unit, digits)}`;
}

function resultText({ address, request }: StageSolved, value: number | null): string {
  if (value === null) return '';
  const wish = declarationOf(address.stage).wish;
  const statistic = statisticAt(request.wish?.statistic ?? wish?.statistic ?? '');
  if (statistic !== undefined) return valueText(value, statistic.unit, statistic.digits);
  return valueText(value, wish?.unit ?? '', 1);
}

function remarksText({ stages, harm }: Solution, width: number): string {
  const said = stages.flatMap(({ address, solution }) =>
    solution.remark === null ? [] : [`${formatAddress(address)}: ${solution.remark}`],
  );
  const left = harm.map(({ statistic }) => `Still worse by more than its tolerance: ${statistic.name}.`);
  return [...said, ...left]
    .flatMap((line) => wrapText(line, width))
    .map((line) => `${line}\n`)
    .join('');
}
