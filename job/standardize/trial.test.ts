/** Oracle: the trial recordings, made by a program that is not part of this project, and the places in their set-up. */
import { expect, it } from 'vitest'
import { needsOutside } from '../../house/outside.ts'
import { compareRecheck } from './index.ts'
import { jobOf, standardizedFrom } from './testing/trial.ts'

const DEG = Math.PI / 180

for (const job of ['al-quarter', 'ti-three-eighths']) {
  needsOutside(`trial/${job}`, `trial ${job}`, (folder) => {
    const { technique, standard } = jobOf(folder)
    const start = standardizedFrom(folder, 'reference-start.wav').standardization
    const recheck = (file: string) =>
      compareRecheck(start, standardizedFrom(folder, file).standardization, technique.recheck_allowance)

    it('notches lie where the set-up has them, within 4° and 0.4 mm', () => {
      expect(start.notches.map(({ id }) => id)).toEqual(standard.notches.map(({ id }) => id))
      for (const [k, { angle_rad, z_m }] of start.notches.entries()) {
        const { angle_deg, z0_mm, z1_mm } = standard.notches[k]!
        expect(Math.abs(angle_rad / DEG - angle_deg)).toBeLessThan(4)
        expect(Math.abs(z_m * 1e3 - 0.5 * (z0_mm + z1_mm))).toBeLessThan(0.4)
      }
    })

    it('amplitudes of the bore grow with depth, and the wall is quiet enough', () => {
      const bore = start.notches.filter(({ place }) => place === 'mid-bore').map(({ amplitude }) => amplitude)
      expect(bore).toEqual([...bore].sort((a, b) => a - b))
      expect(1 / start.noise.matched).toBeGreaterThan(technique.min_signal_to_noise)
      expect(start.rotation.uncertainty_rad / DEG).toBeLessThan(3)
    })

    it('recheck-1 passes', () => expect(recheck('recheck-1.wav')).toMatchObject({ passed: true }))

    it('recheck-2 has lost sensitivity and fails', () => {
      const { passed, drifts } = recheck('recheck-2.wav')
      expect(passed).toBe(false)
      expect(drifts.find(({ notch }) => notch === start.named)).toMatchObject({ verdict: 'exceeded' })
      expect(drifts.filter(({ verdict, amplitude }) => verdict === 'exceeded' && amplitude < 0).length).toBeGreaterThan(
        2
      )
    })
  })
}
