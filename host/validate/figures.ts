import { binomialLowerBound, expm1 } from '@trueloop/ground/numerics'
import { hertz, siemensPerMeter } from '@trueloop/ground/quantity'
import { isRefusal } from '@trueloop/ground/refusal'
import { standardDepth } from '@trueloop/metal/fields'
import { sha256, signatureHolds } from '../hash/index.ts'

/** One thing that was looked at on this machine: what had to come out, what came out, and where the former is from. */
export interface Check {
  readonly name: string
  readonly needed: string
  readonly found: string
  readonly holds: boolean
  readonly source: string
}

interface Figure {
  readonly name: string
  readonly printed: number
  /** half of the last printed digit */
  readonly within: number
  readonly unit: string
  readonly source: string
  readonly value: () => number
}

const depth_mm = (frequency: number): number => {
  const depth = standardDepth(hertz(frequency), { conductivity: siemensPerMeter(30.6e6), permeability: 1 })
  return isRefusal(depth) ? Number.NaN : 1000 * depth
}

/** Figures that others have printed, computed again here. */
const figures: readonly Figure[] = [
  {
    ...{ name: 'depth of penetration, aluminum plate at 7 kHz', printed: 1.09, within: 0.005, unit: 'mm' },
    ...{ source: 'team-15, problem 2', value: () => depth_mm(7000) }
  },
  {
    ...{ name: 'lower bound of a share, 29 of 29 at 95 %', printed: 0.9019, within: 0.00005, unit: '' },
    source: 'clopper-pearson-1934: the 29th root of 0.05',
    value: () => binomialLowerBound({ successes: 29, trials: 29 }, 0.95)
  },
  {
    ...{ name: 'e − 1', printed: 1.718281828459045, within: 2.3e-16, unit: '' },
    ...{ source: 'nist-dlmf, 4.2.11', value: () => expm1(1) }
  }
]

const figureCheck = ({ name, printed, within, unit, source, value }: Figure): Check => {
  const found = value()
  const text = (of: number): string => `${of}${unit === '' ? '' : ` ${unit}`}`
  return {
    name,
    needed: `${text(printed)} ± ${within}`,
    found: text(found),
    holds: Math.abs(found - printed) <= within,
    source
  }
}

/** First test of the standard: an empty message. */
const signed = {
  key: '11qYAYKxCrfVS/7TyWQHOg7hcvPapiMlrwIaaPcHURo=',
  value: '5VZDAMNgrHKQhuLMgG6CioSHfx645dl02HPgZSJJAVVfuIIVkKM7rMYeOXAc+bRr0lv18FlbviRlUUFDjnoQCw=='
}

const said = (holds: boolean): string => (holds ? 'holds' : 'does not hold')

/** The hash and the signature that the record stands on, by the examples of their standards. */
function sealChecks(): readonly Check[] {
  const hash = sha256('abc')
  const needed = 'ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad'
  const [right, wrong] = [signatureHolds(signed.key, '', signed.value), signatureHolds(signed.key, ' ', signed.value)]
  const verdict = (one: boolean, other: boolean): string => `${said(one)} on its message, ${said(other)} on another`
  return [
    { name: 'SHA-256 of "abc"', needed, found: hash, holds: hash === needed, source: 'fips180-4, its example' },
    {
      ...{ name: 'Ed25519, first example', needed: verdict(true, false), found: verdict(right, wrong) },
      ...{ holds: right && !wrong, source: 'rfc8032, 7.1, test 1' }
    }
  ]
}

export const publishedChecks = (): readonly Check[] => [...figures.map(figureCheck), ...sealChecks()]
