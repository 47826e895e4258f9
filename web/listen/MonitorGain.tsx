import { allowedGain_dB, HIGHEST_dB, LOCK_dB, LOWEST_dB, SAFE_START_dB } from '../audio/monitor-level.js';
import { sayMonitor, type Listening } from './listening.js';

export interface MonitorGainProps {
  readonly listening: Pick<Listening, 'monitor_dB' | 'unlocked'>;
  readonly onChange: (change: Partial<Listening>) => void;
}

/** The monitor's gain: a safe start, a lock at -12 dB, double-click back to the start. */
export function MonitorGain({ listening: { monitor_dB, unlocked }, onChange }: MonitorGainProps) {
  return (
    <input
      type="range"
      className="listen-gain"
      aria-label="Monitor gain"
      aria-valuetext={sayMonitor(monitor_dB)}
      min={LOWEST_dB}
      max={unlocked ? HIGHEST_dB : LOCK_dB}
      step={1}
      value={monitor_dB}
      onChange={(event) => onChange({ monitor_dB: allowedGain_dB(Number(event.target.value), unlocked) })}
      onDoubleClick={() => onChange({ monitor_dB: SAFE_START_dB })}
    />
  );
}
