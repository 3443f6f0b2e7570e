/**
 * Makes docs/moved-alone.md: a part scanned with a set-up that moved since the reference scan, and whether the proof of
 * contact catches it. Pure: `movedAlone(rows)` gives the text, its test compares or writes the file.
 */
import { generate, type HoleScene } from '../../rehearse/index.ts'
import type { Standardization } from '../../standardize/index.ts'
import type { Examination, Indication } from '../examination.ts'
import { DEG, examine, sceneOf, standardizationFrom } from './hole.ts'

interface Change {
  readonly name: string
  readonly of: (scene: HoleScene) => HoleScene
  /** rotation of the instrument's plane for reference and part, where it matters */
  readonly plane_rad?: number
}

const decibels = [-12, -6, -3, -1, 1, 3, 6, 12]
const degrees = [-15, -5, 5, 15]

const louder =
  (dB: number) =>
  (scene: HoleScene): HoleScene => ({
    ...scene,
    instrument: { ...scene.instrument, gain: scene.instrument.gain * 10 ** (dB / 20) }
  })

const turned =
  (deg: number) =>
  (scene: HoleScene): HoleScene => ({
    ...scene,
    instrument: { ...scene.instrument, rotation_rad: scene.instrument.rotation_rad + deg * DEG }
  })

const faulty =
  (fault: HoleScene['fault']) =>
  (scene: HoleScene): HoleScene => ({ ...scene, fault })

const dead = (channel: 'x' | 'y') => faulty({ kind: 'dead channel', channel, level: 0.3 })

const signed = (value: number): string => (value > 0 ? `+${value}` : `−${-value}`)

/** The simulated lift-off lies along −x of the pair: with this plane the air step lies on one recorded channel alone. */
const ALONG_X = 0.08
const ALONG_Y = Math.PI / 2 + 0.08

const changes: readonly Change[] = [
  { name: 'nothing moved', of: (scene) => scene },
  ...decibels.map((dB) => ({ name: `gain ${signed(dB)} dB`, of: louder(dB) })),
  ...degrees.map((deg) => ({ name: `plane turned ${signed(deg)}°`, of: turned(deg) })),
  { name: 'x dead', of: dead('x') },
  { name: 'y dead', of: dead('y') },
  { name: 'x dead, the air step lies on y alone', of: dead('x'), plane_rad: ALONG_Y },
  { name: 'y dead, the air step lies on x alone', of: dead('y'), plane_rad: ALONG_X },
  { name: 'x dead, the air step lies on x alone', of: dead('x'), plane_rad: ALONG_X },
  { name: 'in air', of: faulty({ kind: 'in air' }) },
  { name: 'one half of the pair open', of: faulty({ kind: 'half open' }) }
]

export interface Row {
  readonly name: string
  readonly caught: boolean
  readonly codes: readonly string[]
  readonly examination: Examination
}

const PART = 'hole-P04'

/** Every change with what the examination of the part said. */
export function movedAloneRows(): readonly Row[] {
  return changes.map(({ name, of, plane_rad }) => {
    const inPlane = (scene: HoleScene): HoleScene =>
      plane_rad === undefined ? scene : { ...scene, instrument: { ...scene.instrument, rotation_rad: plane_rad } }
    const standardization = referenceIn(inPlane)
    const recorded = generate(of(inPlane(sceneOf(PART))), 4)
    const { examination } = examine(recorded, { standardization })
    const caught = examination.zones.every(({ state }) => state === 'not examined')
    return { name, caught, codes: [...new Set(examination.refusals.map(({ code }) => code))], examination }
  })
}

const references = new Map<number, Standardization>()

function referenceIn(inPlane: (scene: HoleScene) => HoleScene): Standardization {
  const scene = inPlane(sceneOf('reference-start'))
  const key = scene.instrument.rotation_rad
  const known = references.get(key) ?? standardizationFrom(generate(scene, 1))
  references.set(key, known)
  return known
}

/** What failed, shortened: the two faces say the same. */
function reasonOf({ refusals }: Examination): string {
  const found = refusals.map((refusal) => refusal.found.replace(/ at the (entry|exit) face/, ''))
  return [...new Set(found)].join('; ') || '—'
}

const strongest = (indications: readonly Indication[]): Indication | undefined =>
  [...indications].sort((a, b) => b.matched - a.matched)[0]

function crackOf({ indications }: Examination): string {
  const one = strongest(indications)
  return one === undefined ? 'no indication' : `${one.amplitude.toFixed(2)} at ${(one.phase_rad / DEG).toFixed(0)}°`
}

const cellsOf = ({ name, caught, codes, examination }: Row): readonly string[] => [
  name,
  caught ? 'yes' : 'no',
  codes.map((code) => `\`${code}\``).join(', ') || '—',
  reasonOf(examination),
  crackOf(examination)
]

/** Columns of one width, as the formatter of the clone writes tables. */
function table(rows: readonly (readonly string[])[]): readonly string[] {
  const widths = rows[0]!.map((_, k) => Math.max(...rows.map((row) => row[k]!.length)))
  const line = (cells: readonly string[]) => `| ${cells.map((cell, k) => cell.padEnd(widths[k]!)).join(' | ')} |`
  const [head, ...body] = rows.map(line)
  return [head!, line(widths.map((width) => '-'.repeat(width))), ...body]
}

export function movedAlone(rows: readonly Row[]): string {
  return [
    '# A part moved alone',
    '',
    'What happens when the set-up changes between the reference scan and a hole, and nobody notices. The hole must then end',
    'as "not examined" for a reason that fits. Computed by `job/examine/testing/moved-alone.ts` from simulated recordings of',
    'the demonstration (a hole with one crack at mid-bore, standardized on its own reference scan); its test keeps this page',
    'current. Amplitude in units of the named notch; angle from lift-off.',
    '',
    ...table([['change', 'caught', 'refusal', 'what was found', 'strongest indication'], ...rows.map(cellsOf)]),
    '',
    '## What is not caught, and what then guards against it',
    '',
    '- A gain that moved by less than 15 % (−1.4 to +1.2 dB), or by less than three times what the two faces of the reference',
    '  scan differ by: another fit, tape or edge of a sound hole does as much. The amplitude is then wrong by that share.',
    '- A plane that turned by less than 10°: joints, edges and scratches of sound holes turn the axis of the wall motion',
    '  by up to 9° (simulated recordings at hand). The angle of an indication is then wrong by as much.',
    '- Both are for the recheck on the reference standard: its allowance is stated by the technique, and a recheck that',
    '  fails voids every hole since the last good one.',
    '- A dead channel that carries noise of its own instead of standing still is seen by the steps and by the direction of',
    '  the wall motion, unless lift-off lies on the living channel alone. Then only the recheck tells.',
    ''
  ].join('\n')
}
