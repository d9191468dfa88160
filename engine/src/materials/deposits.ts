import { type Source, source } from '../source.ts'

/**
 * Constants of the metals that are plated. Molar masses: standard atomic weights, abridged.
 * Densities are those of the electrodeposit as the cited table takes them.
 */
export const platingConstants = source({
  id: 'table.electrochemical-deposits',
  status: 'handbook',
  citation:
    'Theoretical electrodeposition table of a technical components handbook: g/Ah and µm per A·min/dm² by metal and valency',
  place: 'rows Ni(II), Cr(VI), Cr(III)',
  note: 'Nickel 1.095 g/Ah at 8.90 g/cm³; chromium 0.3234 g/Ah from Cr(VI) and 0.6468 g/Ah from Cr(III) at 7.1 g/cm³ were read.',
})

/** Deposits that the table read does not carry: molar masses are standard atomic weights, densities remembered. */
export const rememberedDeposits = source({
  id: 'memory.copper-and-zinc-deposits',
  status: 'from memory (unverified)',
  citation: 'Density of electrodeposited copper 8.93 and zinc 7.13 g/cm³: to confirm in a handbook of plating',
})

/** Faraday constant, C/mol, exact since the 2019 SI (e·N_A). */
export const FARADAY = 96485.33212

export interface DepositMetal {
  readonly title: string
  readonly molarMassKgPerMol: number
  /** Electrons per atom deposited. Six for Cr(VI): tables that use three are wrong by a factor of two for chromic acid. */
  readonly electrons: number
  readonly densityKgPerM3: number
  readonly source: Source
}

export const DEPOSIT_METALS = ['nickel', 'chromium(VI)', 'chromium(III)', 'copper', 'zinc'] as const
export type DepositMetalName = (typeof DEPOSIT_METALS)[number]

export const deposits: Readonly<Record<DepositMetalName, DepositMetal>> = {
  nickel: {
    title: 'Nickel',
    molarMassKgPerMol: 58.6934e-3,
    electrons: 2,
    densityKgPerM3: 8900,
    source: platingConstants,
  },
  'chromium(VI)': {
    title: 'Chromium from hexavalent bath',
    molarMassKgPerMol: 51.9961e-3,
    electrons: 6,
    densityKgPerM3: 7100,
    source: platingConstants,
  },
  'chromium(III)': {
    title: 'Chromium from trivalent bath',
    molarMassKgPerMol: 51.9961e-3,
    electrons: 3,
    densityKgPerM3: 7100,
    source: platingConstants,
  },
  copper: {
    title: 'Copper from acid bath',
    molarMassKgPerMol: 63.546e-3,
    electrons: 2,
    densityKgPerM3: 8930,
    source: rememberedDeposits,
  },
  zinc: { title: 'Zinc', molarMassKgPerMol: 65.38e-3, electrons: 2, densityKgPerM3: 7130, source: rememberedDeposits },
}
