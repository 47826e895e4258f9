import { declarationOf } from '../../../core/treatment/stage-registry.js';
import type { SettingDeclaration } from '../../../core/treatment/stage.js';
import type { SettingValue } from '../../../core/treatment/treatment.js';
import { SettingField } from '../../fields/SettingField.js';
import { sayValue } from '../../fields/say-value.js';
import type { PathScreenProps } from './path-props.js';
import { solvedAt } from './path-solution.js';
import type { PathStage } from './path-stages.js';

interface StageSettingsProps extends Pick<
  PathScreenProps,
  'solution' | 'measured' | 'byHand' | 'onSetting' | 'onRelease'
> {
  readonly stage: PathStage;
}

/** The settings of the open stage, and the figures that it works with. */
export function StageSettings({ stage, solution, measured, byHand, onSetting, onRelease }: StageSettingsProps) {
  const { settings } = declarationOf(stage.address.stage);
  const stageSolution = solvedAt(solution, stage.key)?.solution;
  const solved = stageSolution?.settings ?? null;
  const amountKey = stageSolution?.amountKey ?? null;
  const tempo_bpm = measured.known.tempo_bpm.kind === 'figure' ? measured.known.tempo_bpm.value : null;
  return (
    <div className="open-part">
      <h2>
        Settings <small>a bracket marks the solved ones</small>
      </h2>
      <dl className="settings">
        {settings.map((declaration) => {
          const address = `${stage.key}.${declaration.key}`;
          const found: SettingValue | null = byHand.has(address) ? null : (solved?.[declaration.key] ?? null);
          const present = stage.instance.settings[declaration.key] ?? declaration.default;
          const back = (): void => {
            if (byHand.has(address)) onRelease(address, foundBefore(solved?.[declaration.key], present, declaration));
          };
          const differs = found !== null && (found !== declaration.default || declaration.key === amountKey);
          return (
            <div key={declaration.key} title={declaration.help}>
              <dt>{declaration.name}</dt>
              <dd>
                <SettingField
                  declaration={declaration}
                  value={present}
                  solved={differs ? found : null}
                  tempo_bpm={tempo_bpm}
                  onChange={(value) => onSetting(address, value)}
                  onBack={back}
                />
              </dd>
            </div>
          );
        })}
      </dl>
      <MeasuredFigures stage={stage} />
      <p className="small">Type 1.5, 1.5&nbsp;dB or +0.5; drag, Shift for fine; double-click for what was solved.</p>
    </div>
  );
}

/** What a setting goes back to: the value that was solved, or its default where it was solved with the value by hand. */
function foundBefore(
  solved: SettingValue | undefined,
  present: SettingValue,
  { default: rest }: SettingDeclaration,
): SettingValue {
  return solved === undefined || solved === present ? rest : solved;
}

/** Figures measured over the song that the stage works with; lists are said by their count. */
function MeasuredFigures({ stage }: { readonly stage: PathStage }) {
  const { figures } = declarationOf(stage.address.stage);
  const single = figures.filter(({ key }) => typeof stage.instance.figures[key] === 'number');
  if (single.length === 0) return null;
  return (
    <dl className="settings measured-figures">
      {single.map(({ key, unit, help }) => (
        <div key={key} title={help}>
          <dt>{key.replace(/_\w+$/, '').replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)}, measured</dt>
          <dd>{sayValue(Number(stage.instance.figures[key]), unit)}</dd>
        </div>
      ))}
    </dl>
  );
}
