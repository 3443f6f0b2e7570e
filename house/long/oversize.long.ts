/**
 * Oversize holes with known truth: notch-like flaws in holes that cost 1, 3 and 6 dB with the probe centered. How much an
 * answer really falls with distance, and on which side the probe leans, is drawn for every hole; the program is told the
 * mean coil radius and what a gauge showed, and nothing else. The same holes without a preparation stand beside it.
 */
import { randomFrom } from '@trueloop/ground/numerics'
import { type Examination, openHole } from '../../job/examine/index.ts'
import type { Hole, HoleTechnique } from '../../job/plan/index.ts'
import { findsOf, generate, type HoleScene, type Setup, type TrialPart, trials } from '../../job/rehearse/index.ts'
import { callsOf, isExamined, notExaminedWhy, ran, type Standardized, standardized } from './generated/examine.ts'
import { countsOf } from './generated/numbers.ts'
import { type SizedRow, sizedFigures, sizedRow } from './generated/sizing.ts'

export const title =
  'Notch-like flaws in oversize holes of 1, 3 and 6 dB: intervals hold 93 % or more, and what is said to be examined is found'

const LOSSES_dB = [0, 1, 3, 6] as const
const GAUGE_mm = 0.005
const LEAST_SHARE = 0.93
/** Mean radii over which an answer really falls by e: as computed for closed cracks of several metals. */
const FALL = { least: 2.6, most: 3.64 }
const NATURAL = Math.LN10 / 20

interface Oversized {
  readonly scene: HoleScene
  readonly hole: Hole
}

/** The coil of a set-up, invented: a third of the distance of its lobes. */
const radiusOf = ({ technique }: Setup): number => technique.lobe_spacing_mm / 3

const techniqueOf = (setup: Setup): HoleTechnique => ({
  ...setup.technique,
  probe: { mean_coil_radius_mm: radiusOf(setup), fit: 'fixed diameter' },
  oversize: { max_loss_dB: 20 }
})

/** A hole made wider by what costs so much, centered: its probe really leans as it falls, its gauge is off as it falls. */
function oversized(setup: Setup, { scene, id, loss_dB }: { scene: HoleScene; id: string; loss_dB: number }): Oversized {
  const random = randomFrom(`oversize ${id} ${loss_dB}`)
  const radius = radiusOf(setup)
  const wider = (2 * loss_dB * NATURAL * radius) / 3
  const outOfRound = 0.2 * wider * random.uniform()
  const fall = FALL.least + (FALL.most - FALL.least) * random.uniform()
  const gap = (wider - 0.5 * outOfRound * random.uniform()) * random.uniform()
  const off = GAUGE_mm * (2 * random.uniform() - 1)
  const none = { depth_m: 0, half_angle_rad: 0.8 }
  return {
    scene: {
      ...scene,
      hole: { ...scene.hole, gap: { oversize_m: 1e-3 * gap, countersink: none, decay_m: (1e-3 * radius) / fall } }
    },
    hole: {
      ...setup.hole,
      id,
      preparation: {
        cleaned: { by: 'simulated', on: '2026-03-14' },
        deburred: 'not needed',
        visual: 'nothing',
        measured_diameter_mm: Math.round(1000 * (setup.hole.diameter_mm + wider + off)) / 1000,
        out_of_round_mm: Math.round(1000 * outOfRound) / 1000,
        gauge: 'simulated gauge',
        gauge_uncertainty_mm: GAUGE_mm,
        measured: { by: 'simulated', on: '2026-03-14' }
      }
    }
  }
}

interface Row {
  readonly loss_dB: number
  readonly prepared: boolean
  readonly setup: string
  readonly hole: string
  readonly examined: boolean
  readonly why: readonly string[]
  readonly flaws: readonly (SizedRow & {
    readonly sought: boolean
    readonly found: boolean
    readonly inExamined: boolean
  })[]
  readonly others: number
}

/** Whether all zones that a flaw lies in were examined. */
const isIn = ({ zones }: Examination, flaw: { readonly z0_mm: number; readonly z1_mm: number }): boolean =>
  zones
    .filter(({ z0_m, z1_m }) => 1e3 * z0_m < flaw.z1_mm && 1e3 * z1_m > flaw.z0_mm)
    .every(({ state }) => state === 'examined')

function* rowsOf(part: TrialPart): Generator<Row> {
  const setup = { ...part.setup, technique: techniqueOf(part.setup) }
  const under = standardized({ ...part, setup })
  if (typeof under === 'string') return
  for (const { id, scene, seed, truth } of part.holes)
    for (const loss_dB of LOSSES_dB) {
      const made = oversized(setup, { scene, id, loss_dB })
      const recording = generate(made.scene, seed)
      for (const prepared of [true, false]) {
        const { preparation: _, ...bare } = made.hole
        const hole = prepared ? made.hole : bare
        const examination = examinedAs(under, hole, recording)
        yield { loss_dB, prepared, ...told({ setup, id, truth, examination, recording }) }
      }
    }
}

function examinedAs(
  { part: { setup }, standardization }: Standardized,
  hole: Hole,
  recording: ReturnType<typeof generate>
) {
  const run = openHole({
    technique: setup.technique,
    standardization,
    standardizationName: setup.id,
    hole,
    equipment: setup.equipment,
    rate_Hz: recording.rate_Hz,
    indexed: true,
    recording: hole.id
  })
  if ('refused' in run) throw new Error(run.found)
  const closed = ran(run, recording)
  if ('refused' in closed) throw new Error(closed.found)
  return closed.examination
}

interface Told {
  readonly setup: Setup
  readonly id: string
  readonly truth: ReturnType<typeof generate>['truth']
  readonly examination: Examination
  readonly recording: ReturnType<typeof generate>
}

function told({ setup, id, truth, examination, recording }: Told): Omit<Row, 'loss_dB' | 'prepared'> {
  const calls = callsOf(examination)
  const finds = findsOf({ truth, calls })
  const hole = { id, truth, scene: setup.plain, seed: 0 }
  const { depth, length } = setup.technique.target_flaw_mm
  return {
    setup: setup.id,
    hole: id,
    examined: isExamined(examination),
    why: notExaminedWhy({ hole, recording, examination }).map((one) => one.split(':')[0] ?? one),
    flaws: truth.flaws.map((flaw) => {
      const row = sizedRow(setup.id, { hole: id, flaw, calls, finds })
      return {
        ...row,
        sought: flaw.depth_mm >= depth && flaw.length_mm >= length,
        found: row.said !== 'not found',
        inExamined: isIn(examination, flaw)
      }
    }),
    others: calls.filter((call) => !finds.some((find) => find.call === call)).length
  }
}

function figures(rows: readonly Row[]) {
  const flaws = rows.flatMap((row) => row.flaws)
  const sought = flaws.filter((one) => one.sought)
  const inExamined = sought.filter((one) => one.inExamined)
  return {
    holes: rows.length,
    examined: rows.filter(({ examined }) => examined).length,
    flaws: flaws.length,
    found: flaws.filter((one) => one.found).length,
    sought: sought.length,
    soughtFound: sought.filter((one) => one.found).length,
    soughtInExamined: inExamined.length,
    soughtInExaminedFound: inExamined.filter((one) => one.found).length,
    callsBeside: rows.reduce((sum, { others }) => sum + others, 0),
    sizes: sizedFigures(flaws),
    why: countsOf(rows.flatMap(({ why }) => [...new Set(why)]))
  }
}

interface Context {
  readonly options?: Readonly<Record<string, string>>
  readonly say: (line: string) => void
}

/** `--setups=FIRST,COUNT` and `--holes=N` (a set-up) as for the other generated trials. */
export async function run({ options = {}, say }: Context) {
  const [first = 0, count = 20] = (options.setups ?? '0,20').split(',').map(Number)
  const rows: Row[] = []
  for (const part of trials('sizing', { setups: [first, count], holes: Number(options.holes ?? 4) })) {
    rows.push(...rowsOf(part))
    say(`${part.setup.id}: ${rows.length} rows`)
  }
  const by = LOSSES_dB.flatMap((loss_dB) =>
    [true, false].map((prepared) => ({
      loss_dB,
      prepared,
      ...figures(rows.filter((row) => row.loss_dB === loss_dB && row.prepared === prepared))
    }))
  )
  const ok = by
    .filter(({ prepared, loss_dB }) => prepared && loss_dB > 0)
    .every(
      ({ sizes, soughtInExamined, soughtInExaminedFound }) =>
        (sizes.holds ?? 0) >= LEAST_SHARE && soughtInExaminedFound >= LEAST_SHARE * soughtInExamined
    )
  return { ok, wanted: { leastShare: LEAST_SHARE }, setups: [first, count], by }
}
