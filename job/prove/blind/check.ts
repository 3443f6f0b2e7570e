import type { Refusal } from '@trueloop/ground/refusal'
import { refuse } from '../codes.ts'
import { proposedCounts } from './counts.ts'
import { type FlawKind, flawKinds, type TrialInput } from './trial.ts'

/** Something that makes a trial weaker than it could be; it may be run all the same. */
export interface TrialWarning {
  readonly kind: FlawKind
  readonly found: string
  readonly what_to_do: string
}

const of = ({ sites }: TrialInput, kind: FlawKind) => sites.filter((site) => site.kind === kind)

/**
 * Whether a trial can be built. Refuses: prove/site-twice, prove/kind-not-planned (sites of a kind without an analysis, or an
 * analysis without sites), prove/no-blanks, prove/inspector-twice.
 */
export function checkTrial(input: TrialInput): readonly Refusal[] {
  const sites = doubled(input.sites.map(({ site }) => site))
  const inspectors = doubled(input.inspectors)
  return [
    ...(sites === undefined ? [] : [siteTwice(sites)]),
    ...(inspectors === undefined ? [] : [inspectorTwice(inspectors)]),
    ...flawKinds.flatMap((kind) => kindFaults(input, kind))
  ]
}

const doubled = (names: readonly string[]): string | undefined => names.find((name, at) => names.indexOf(name) < at)

function kindFaults(input: TrialInput, kind: FlawKind): readonly Refusal[] {
  const sites = of(input, kind)
  const analysis = input.analysis[kind]
  if (sites.length > 0 !== (analysis !== undefined)) return [notPlanned(kind, sites.length)]
  if (analysis === undefined || analysis === 'demonstration') return []
  return sites.some(({ size_mm }) => size_mm === 0) ? [] : [noBlanks(kind)]
}

/** Numbers against what is proposed, sizes against each other. */
export function trialWarnings(input: TrialInput): readonly TrialWarning[] {
  return flawKinds.flatMap((kind) => {
    const analysis = input.analysis[kind]
    if (analysis === undefined) return []
    const sizes = of(input, kind).map(({ size_mm }) => size_mm)
    const flaws = sizes.filter((size) => size > 0)
    const wanted = proposedCounts(analysis)
    const few = (what: string, count: number, least: number): readonly TrialWarning[] =>
      count >= least
        ? []
        : [
            {
              kind,
              found: `${count} ${what}; ${least} are proposed for ${analysis}: ${wanted.source}`,
              what_to_do: `add ${what}, or reckon with wider bounds: small trials mislead`
            }
          ]
    return [
      ...few('flaws', flaws.length, wanted.flaws),
      ...few('blanks', sizes.length - flaws.length, wanted.blanksForFlaws * flaws.length),
      ...narrow(kind, flaws, analysis === 'demonstration')
    ]
  })
}

/** Sizes that hardly differ show no rise. */
const LEAST_SPREAD = 3

function narrow(kind: FlawKind, flaws: readonly number[], isOneSize: boolean): readonly TrialWarning[] {
  const [least, most] = [Math.min(...flaws), Math.max(...flaws)]
  if (isOneSize || flaws.length === 0 || most >= LEAST_SPREAD * least) return []
  return [
    {
      kind,
      found: `sizes from ${least} to ${most} mm: less than ${LEAST_SPREAD} times apart`,
      what_to_do: 'take sizes from such that are nearly never found to such that nearly always are'
    }
  ]
}

const siteTwice = (site: string): Refusal =>
  refuse('prove/site-twice', {
    found: `the place ${site} twice`,
    needed: 'each place once, under a name of its own',
    remedy: 'name the places as they stand on the specimens, or leave out what stands twice'
  })

const inspectorTwice = (name: string): Refusal =>
  refuse('prove/inspector-twice', {
    found: `${name} twice among the inspectors`,
    needed: 'each inspector once: a second look by the same person is no further inspector',
    remedy: 'leave out the second, or add the initials that tell two persons apart'
  })

const notPlanned = (kind: FlawKind, sites: number): Refusal =>
  refuse('prove/kind-not-planned', {
    found:
      sites > 0
        ? `${sites} places for ${kind} flaws and no analysis of them`
        : `an analysis of ${kind} flaws without a place`,
    needed: 'an analysis for each kind that has places, and places for each analysis',
    remedy: 'fix it before the trial: chosen afterwards it proves nothing'
  })

const noBlanks = (kind: FlawKind): Refusal =>
  refuse('prove/no-blanks', {
    found: `no blank among the places for ${kind} flaws`,
    needed: 'places that are known to hold no flaw: who calls everything finds everything',
    remedy: 'add blanks; three times as many as flaws is proposed'
  })
