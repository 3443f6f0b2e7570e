/**
 * The 1 000 points of the comparison over layers: four coils at five lift-offs, ten stacks of layers, five frequencies.
 * Coils, layers, lift-offs and frequencies are those of the check cases (metal/fields/reference/layers.py), the further
 * lift-offs and frequencies lie between and around them. SI units; the last layer has no thickness.
 */
const steel = { sigma: 5e6, mur: 100, thickness: null }
const air = { sigma: 0, mur: 1, thickness: null }
const aluminum = { sigma: 17.4e6, mur: 1 }
const paint = { sigma: 0, mur: 1 }
const zinc = { sigma: 16.5e6, mur: 1 }

const coils = [
  { r1: 0.5e-3, r2: 1.5e-3, length: 1e-3, turns: 100, liftOffs: [0.1e-3, 0.2e-3, 0.3e-3, 0.5e-3, 0.8e-3] },
  { r1: 2e-3, r2: 4e-3, length: 3e-3, turns: 300, liftOffs: [0.3e-3, 0.5e-3, 0.8e-3, 1.2e-3, 2e-3] },
  { r1: 6.15e-3, r2: 12.4e-3, length: 6.15e-3, turns: 3790, liftOffs: [0.88e-3, 1.2e-3, 1.6e-3, 2.2e-3, 3e-3] },
  { r1: 9.34e-3, r2: 18.4e-3, length: 9e-3, turns: 408, liftOffs: [1.2e-3, 1.6e-3, 2.03e-3, 3e-3, 4e-3] }
]

const stacks = [
  [{ ...aluminum, thickness: null }],
  [{ sigma: 0.58e6, mur: 1, thickness: null }],
  [{ sigma: 58e6, mur: 1, thickness: null }],
  [steel],
  [{ sigma: 1.45e6, mur: 75, thickness: null }],
  [{ ...paint, thickness: 0.3e-3 }, steel],
  [{ ...zinc, thickness: 0.1e-3 }, steel],
  [{ ...aluminum, thickness: 1e-3 }, air],
  [{ ...aluminum, thickness: 2e-3 }, { ...paint, thickness: 0.1e-3 }, { ...aluminum, thickness: 2e-3 }, air],
  [{ ...paint, thickness: 0.2e-3 }, { ...zinc, thickness: 0.05e-3 }, { sigma: 5e6, mur: 100, thickness: 5e-3 }, air]
]

const frequencies = [1e3, 10e3, 50e3, 100e3, 500e3]

export const points = coils.flatMap(({ liftOffs, ...coil }) =>
  liftOffs.flatMap((liftOff) =>
    stacks.flatMap((layers) => frequencies.map((f) => ({ coil: { ...coil, liftOff }, layers, f })))
  )
)
