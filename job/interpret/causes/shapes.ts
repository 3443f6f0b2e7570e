import type { Features } from '../features.ts'
import { type Criterion, grade } from './criteria.ts'

/** From what on a criterion is met at all, and from what on wholly. */
export interface Span {
  readonly none: number
  readonly full: number
}

const times = (value: number): string => value.toFixed(value < 10 ? 1 : 0)
const percent = (share: number): string => `${Math.round(100 * share)} %`
const mm = (value_m: number): string => `${(1000 * value_m).toFixed(2)} mm`
const by = (value: number, { none, full }: Span): number => grade(value, none, full)

/** Revolutions at half the peak or more, over those that pass over the flaw sought and the footprint. */
export const rowsOver = ({ rows, expectedRows }: Features): number => rows / Math.max(1, expectedRows)

export const run = (features: Features, span: Span): Criterion => ({
  what: 'run',
  share: by(rowsOver(features), span),
  sentence: () =>
    `It answers on ${features.rows} revolutions at half its peak or more${features.cut ? ', to where the pass ends' : ''}; about ${times(features.expectedRows)} pass over the flaw sought and the footprint together.`
})

export const repeats = (features: Features, span: Span): Criterion => ({
  what: 'repeat',
  share: by(features.repeat, span),
  sentence: () => `Neighboring revolutions are alike by ${percent(features.repeat)}.`
})

export const moves = (features: Features, span: Span): Criterion => ({
  what: 'place',
  share: by(360 * features.unsteady_turn, span),
  sentence: () =>
    `It moves by up to ${times(360 * features.wander_turn)}° from revolution to revolution, ${times(360 * Math.abs(features.helix_turn))}° of it steadily.`
})

export const like = (features: Features, span: Span): Criterion => ({
  what: 'likeness',
  share: by(features.likeness, span),
  sentence: () => `The notch’s shape explains ${percent(features.likeness)} of it.`
})

export const wide = (features: Features, span: Span): Criterion => ({
  what: 'width',
  share: by(features.width, span),
  sentence: () => `Its lobes are ${times(features.width)} times as far apart as the notch’s.`
})

export const sharp = (features: Features, span: Span): Criterion => ({
  what: 'sharpness',
  share: by(features.sharpness, span),
  sentence: () => `${percent(features.sharpness)} of its energy is sharper than anything of the notch’s.`
})

export const allAround = (features: Features, span: Span): Criterion => ({
  what: 'around',
  share: by(features.around, span),
  sentence: () =>
    `${percent(features.around)} of the rest of the circumference answers like it on the same revolutions.`
})

/** Content at one of the first lines of a revolution (1 or 2) over the size of the place. */
export const onceOrTwice = (features: Features, line: 1 | 2, span: Span): Criterion => {
  const content = features.harmonics[line - 1] as number
  return {
    what: line === 1 ? 'once a revolution' : 'twice a revolution',
    share: features.matched > 0 ? by(content / features.matched, span) : 0,
    sentence: () =>
      `The wall moves ${line === 1 ? 'once' : 'twice'} a revolution by ${content.toFixed(2)} there; the place answers by ${features.matched.toFixed(2)}.`
  }
}

export interface FaceSpan {
  readonly faceNone: number
  readonly faceFull: number
  readonly longNone: number
  readonly longFull: number
}

/** Its middle lies at one of the faces, and it is no longer than a face is seen. Not met where there is no depth. */
export function atFace(features: Features, faces: readonly Features['face'][], v: FaceSpan): Criterion {
  const { face, toFace_m } = features
  if (toFace_m === 'unknown')
    return {
      what: 'depth',
      share: 0,
      sentence: () => 'How far it lies from a face is not known: the pass has no depth there.'
    }
  const near = grade(toFace_m, v.faceNone, v.faceFull)
  return {
    what: 'depth',
    share: faces.includes(face) ? Math.min(near, grade(rowsOver(features), v.longNone, v.longFull)) : 0,
    sentence: () =>
      `Its middle lies ${mm(toFace_m)} from ${face === 'joint' ? 'a joint' : `the ${face} face`}, the nearest one; it runs over ${features.rows} revolutions.`
  }
}

/** Share of its layer that its −6 dB extent takes. */
export const ofLayer = ({ layerShare }: Features, span: Span): Criterion => ({
  what: 'extent',
  share: layerShare === 'unknown' ? 0 : by(layerShare, span),
  sentence: () =>
    layerShare === 'unknown'
      ? 'What share of its layer it takes is not known.'
      : `It takes ${percent(layerShare)} of its layer.`
})

export const symmetric = (features: Features, span: Span): Criterion => ({
  what: 'symmetry',
  share: by(features.symmetry, span),
  sentence: () => `Its smaller lobe is ${percent(features.symmetry)} of the larger one.`
})

export const round = (features: Features, span: Span): Criterion => ({
  what: 'roundness',
  share: by(features.roundness, span),
  sentence: () => `Its loop is ${percent(features.roundness)} as wide as it is long.`
})

export const strong = (features: Features, span: Span): Criterion => ({
  what: 'signal to noise',
  share: by(Math.max(features.signalToNoise, features.joined), span),
  sentence: () => `It stands ${times(Math.max(features.signalToNoise, features.joined))} times above the noise.`
})

export const lone = (features: Features, span: Span): Criterion => ({
  what: 'beside',
  share: by(features.opposite, span),
  sentence: () => `Beside it lies an answer of the opposite order, ${times(features.opposite)} times as strong.`
})

/** Nothing of its own stands on a run: a crack under a mark. Where a run is too short to tell, nothing speaks against it. */
export const plain = ({ overRun }: Features, span: Span): Criterion => ({
  what: 'on the run',
  share: overRun === 'unknown' ? 1 : by(overRun.signalToNoise, span),
  sentence: () =>
    overRun === 'unknown'
      ? 'It is too short to tell whether something else stands on it.'
      : `Along a notch, a place of it stands out of the rest of the run by ${overRun.size.toFixed(2)}, ${times(overRun.signalToNoise)} times the noise.`
})

/** What a recording alone does not show: named only, and always behind what does show itself. */
export const asDrawn = (share: number, what: string): Criterion => ({
  what: 'drawing',
  share,
  sentence: () =>
    `That ${what} is there has to be known from the drawing or the work order: the recording alone does not show it.`
})
