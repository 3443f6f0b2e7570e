import type { Features } from '../features.ts'
import { ANGLES, angleSentence, crackward } from './angles.ts'
import { cause, PRACTICE } from './cause.ts'
import { type Criterion, grade, weighed } from './criteria.ts'
import { like, run, wide } from './shapes.ts'
import { declared } from './shared.ts'

const numbers = {
  deviations: ANGLES.deviations,
  angleNone: declared(
    0.4,
    'share of the way from lift-off to the notches',
    'a crack turns with its depth and against the notch, but not past the middle of the way to lift-off'
  ),
  angleFull: declared(
    0.65,
    'share of the way from lift-off to the notches',
    'cracks answer up to about a third of the way beside the notches of their size'
  ),
  runNone: declared(0.12, 'share of the rows expected', 'about one revolution in ten of what the flaw sought gives'),
  runFull: declared(
    0.35,
    'share of the rows expected',
    'a small crack at an edge shows a third of its revolutions at half its peak'
  ),
  narrowNone: declared(
    0.3,
    'of the notch',
    'the coil makes lobes of its own spacing: so narrow nothing on the wall answers'
  ),
  narrowFull: declared(0.6, 'of the notch', 'a lobe spacing is read to a third in noise'),
  broadNone: declared(2.6, 'of the notch', 'twice the notch and more has no two lobes that belong together'),
  broadFull: declared(1.7, 'of the notch', 'a crack that lies aslant, or two side by side'),
  likeNone: declared(0.1, 'share of energy', 'what is shared by chance with a loop of about five independent points'),
  likeFull: declared(
    0.35,
    'share of energy',
    'a crack on a scratch or at a joint keeps a third of its loop for itself'
  ),
  weak: declared(4, 'signal to noise', 'at the noise no shape can be read: then shape does not speak against a crack'),
  loopNoise: declared(
    10,
    'square of deviations',
    'what noise alone has in a loop: about five independent points of two components each'
  ),
  clear: declared(15, 'signal to noise', 'from here on shape is read to better than a tenth, and speaks wholly')
}

/**
 * Deviations by which the loop as a whole stands out of the noise: at least what the notch's shape does; more where most
 * of it is of another shape, less what noise alone adds.
 */
function loopToNoise({ signalToNoise, likeness }: Features, loopNoise: number): number {
  const square = signalToNoise * signalToNoise
  return Math.sqrt(likeness > 0 ? Math.max(square, square / likeness - loopNoise) : square)
}

/** Shape speaks against a crack only as far as the noise lets it be read. */
const readable = (features: Features, criterion: Criterion, v: { weak: number; clear: number; loopNoise: number }) => ({
  ...criterion,
  share: 1 - grade(loopToNoise(features, v.loopNoise), v.weak, v.clear) * (1 - criterion.share)
})

export const crack = cause({
  name: 'crack',
  alsoCalled: ['notch'],
  class: 'relevant',
  looks:
    'Near the angle of the notches and away from lift-off, two lobes in the order and spacing of the notch, at one place over as many revolutions as its length and the footprint take.',
  source: PRACTICE,
  numbers,
  weigh(features, v) {
    const narrow = wide(features, { none: v.narrowNone, full: v.narrowFull })
    const broad = wide(features, { none: v.broadNone, full: v.broadFull })
    return weighed([
      {
        what: 'angle',
        share: grade(crackward(features, v.deviations), v.angleNone, v.angleFull),
        sentence: () => angleSentence(features)
      },
      {
        what: 'lobe order',
        share: features.lobeOrder === 1 ? 1 : 0,
        sentence: () => `Its lobes come in the ${features.lobeOrder === 1 ? '' : 'reversed '}order of the notch.`
      },
      readable(features, narrow.share < broad.share ? narrow : broad, v),
      readable(features, run(features, { none: v.runNone, full: v.runFull }), v),
      readable(features, like(features, { none: v.likeNone, full: v.likeFull }), v)
    ])
  }
})
