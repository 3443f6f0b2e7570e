import { cause, PRACTICE } from './cause.ts'
import { weighed } from './criteria.ts'
import { allAround, asDrawn, ofLayer } from './shapes.ts'
import { DRAWN, declared } from './shared.ts'

const numbers = {
  drawn: DRAWN,
  aroundNone: declared(0.2, 'share of the circumference', 'several flaws at one depth of a small hole'),
  aroundFull: declared(0.45, 'share of the circumference', 'a bushing lies all around'),
  layerNone: declared(0.6, 'share of the layer', 'a bushing may be shorter than its layer'),
  layerFull: declared(0.9, 'share of the layer', 'its −6 dB ends lie at the faces, read to a pitch')
}

export const bushing = cause({
  name: 'bushing',
  alsoCalled: ['sleeve', 'steel bushing'],
  class: 'nonrelevant',
  looks:
    'Another signal altogether, all around and over the whole length of the bushing; the metal behind it is hardly seen.',
  source: PRACTICE,
  numbers,
  weigh: (features, v) =>
    weighed([
      allAround(features, { none: v.aroundNone, full: v.aroundFull }),
      ofLayer(features, { none: v.layerNone, full: v.layerFull }),
      asDrawn(v.drawn, 'a bushing')
    ])
})
