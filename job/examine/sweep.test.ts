import { readFileSync } from 'node:fs'
import { join } from 'node:path'
import { expect, it } from 'vitest'
import { needsOutside } from '../../house/outside.ts'
import type { Examination } from './index.ts'
import reference from './reference/freq-sweep.json' with { type: 'json' }
import { DEG, type Recorded, sound } from './testing/hole.ts'
import { loopExamined } from './testing/loop.ts'
import { moved } from './testing/moved.ts'

const RATE = 256

function recordingIn(folder: string, file: string): Recorded {
  const rows = readFileSync(join(folder, file), 'utf8').trim().split('\n')
  const table = rows.map((row) => row.split(',').map(Number))
  return {
    rate_Hz: RATE,
    x: Float64Array.from(table, ([, x]) => x!),
    y: Float64Array.from(table, ([, , y]) => y!)
  }
}

const examined = (recorded: Recorded): Examination => sound(loopExamined(recorded)).examination

const degreesApart = (a: number, b: number): number => Math.abs(a - b - 180 * Math.round((a - b) / 180))

/** Every sample and the point halfway to the next: the same loop, drawn half as fast. */
const halfAsFast = (column: Float64Array): Float64Array =>
  Float64Array.from({ length: 2 * column.length - 1 }, (_, i) => 0.5 * (column[i >> 1]! + column[(i + 1) >> 1]!))

// span and angle: the table of the data's README, and SciPy over every pair of points (reference/freq-sweep.py)
needsOutside('outside/freq_sweep_flaw_scan', 'real sweeps over one flaw, 25 settings', (folder) => {
  it.each(reference.files)('$file: one indication, $span at $angle_deg°', (one) => {
    const { indications, standardization } = examined(recordingIn(folder, one.file))
    expect(standardization).toBe('none')
    expect(indications.length).toBe(1)
    const { amplitude, phase_rad } = indications[0]!
    expect(Math.abs(amplitude - one.span)).toBeLessThanOrEqual(reference.tolerance.span)
    expect(degreesApart(phase_rad / DEG, one.angle_deg)).toBeLessThanOrEqual(reference.tolerance.angle_deg)
    // a loop has no sense: its angle is that of a line
    expect(phase_rad >= 0 && phase_rad < Math.PI).toBe(true)
    expect(amplitude).toBeCloseTo(one.span_computed, 12)
    expect(degreesApart(phase_rad / DEG, one.angle_computed_deg)).toBeLessThan(1e-9)
  })

  it('the angle turns one way over all settings, 164.4° in all', () => {
    const angles = reference.files.map(
      ({ file }) => examined(recordingIn(folder, file)).indications[0]!.phase_rad / DEG
    )
    let turned = 0
    for (let i = 1; i < angles.length; i++) {
      const step = angles[i]! - angles[i - 1]!
      const short = step - 180 * Math.round(step / 180)
      expect(short).toBeLessThan(0)
      turned += short
    }
    // the difference of two printed angles
    expect(Math.abs(turned + 164.4)).toBeLessThan(0.1)
  })

  it.each(['var_peq_4.csv', 'var_peq_13.csv'])('%s: a hand at another speed gives the same loop', (file) => {
    const recorded = recordingIn(folder, file)
    const before = examined(recorded).indications[0]!
    for (const rate_Hz of [64, 128, 512, 1024]) {
      const { amplitude, phase_rad } = examined({ ...recorded, rate_Hz }).indications[0]!
      expect({ amplitude, phase_rad }).toEqual({ amplitude: before.amplitude, phase_rad: before.phase_rad })
    }
    const slow = examined({ rate_Hz: RATE, x: halfAsFast(recorded.x), y: halfAsFast(recorded.y) }).indications
    expect(slow.length).toBe(1)
    expect({ amplitude: slow[0]!.amplitude, phase_rad: slow[0]!.phase_rad }).toEqual({
      amplitude: before.amplitude,
      phase_rad: before.phase_rad
    })
  })

  it.each([-170, -33, 30, 91])('the plane turned by %i°: span equal, angle moved by as much', (turn) => {
    for (const file of ['var_peq_1.csv', 'var_peq_10.csv', 'var_peq_25.csv']) {
      const recorded = recordingIn(folder, file)
      const before = examined(recorded).indications[0]!
      const [after, ...more] = examined(moved(recorded, { gain: 1, turn_rad: turn * DEG, x: 0.2, y: -1 })).indications
      expect(more.length).toBe(0)
      expect(Math.abs(after!.amplitude / before.amplitude - 1)).toBeLessThan(1e-12)
      expect(degreesApart(after!.phase_rad / DEG, before.phase_rad / DEG + turn)).toBeLessThan(1e-9)
    }
  })
})
