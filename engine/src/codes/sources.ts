import { source } from '../source.ts'

export const codeRulesPractice = source({
  id: 'practice.code-rules',
  status: 'common practice (no source)',
  citation: 'Rules for usable codes of a works: runs, steps, different values, repeats, fixed discs, a separation rule',
  note: 'Which rules a works sets is its own choice; the counting is exact.',
})

export const smoothWords = source({
  id: 'oeis.smooth-words',
  status: 'paper',
  citation:
    'OEIS A126360, A126393, A126474 (R. H. Hardin 2006); A. Knopfmacher, T. Mansour, A. Munagi, H. Prodinger, Smooth words and Chebyshev polynomials, arXiv:0809.0551',
  place: 'words of n letters over 6 symbols with neighbours at most d apart',
})

export const stirlingCounts = source({
  id: 'textbook.stirling-second-kind',
  status: 'from memory (unverified)',
  citation:
    'Words of n letters with exactly j of q symbols: C(q, j) · j! · S(n, j), Stirling numbers of the second kind',
})

export const ff1Standard = source({
  id: 'nist.sp-800-38g',
  status: 'standard',
  citation:
    'NIST SP 800-38G (2016), Methods for Format-Preserving Encryption, FF1, with the nine FF1 samples NIST published for it',
  note: 'Samples read in a public program that carries them.',
})

export const ff1Domain = source({
  id: 'nist.sp-800-38g-rev1-domain',
  status: 'from memory (unverified)',
  citation: 'NIST SP 800-38G Rev. 1 (draft): radix to the power of the least length must be at least one million',
})

export const iso7064 = source({
  id: 'iso.7064',
  status: 'handbook',
  citation:
    'Documentation and tests of an open-source check digit library, after ISO/IEC 7064, hybrid systems MOD 11,10 and MOD 37,36',
  note: 'The text of the standard itself was not seen.',
})

export const dammThesis = source({
  id: 'damm.2004',
  status: 'handbook',
  citation:
    'Documentation of an open-source check digit library, after H. M. Damm, Total anti-symmetrische Quasigruppen, Marburg 2004',
  note: 'The case 572 → 4 was read there, the thesis was not seen; the table is from memory and proven by trying every substitution and transposition.',
})
