import { source } from '../source.ts'

/** Where the figures of steels.ts come from. Makers are not named: what counts is the standard the card follows. */

export const card42CrMo4 = source({
  id: 'card.42crmo4',
  status: 'handbook',
  citation: "Steelmaker's technical card 42CrMo4 (1.7225), editions to EN 10083-3:2006 and EN ISO 683-2:2018",
  place: 'composition, transformation points, tempering values on 10 mm rounds quenched in oil from 850 °C',
  note: 'The newer edition prints Ms 335 °C, the older 300 °C. The holding time of the tempering values is not stated.',
})

export const supplierSheet42CrMo4 = source({
  id: 'sheet.42crmo4-hardening',
  status: 'handbook',
  citation: 'Data sheets of two steel stockists for 1.7225: hardening 820–880 °C in oil or water, tempering 450–700 °C',
  note: 'One warns that tempering between 200 and 420 °C embrittles.',
})

export const card41Cr4 = source({
  id: 'card.41cr4',
  status: 'handbook',
  citation: "Steelmaker's technical card 41Cr4 (1.7035), editions to EN 10083-3:2006 and ISO 683-2:2018",
  place: 'composition, transformation points, tempering values on 10 mm rounds quenched in oil from 850 °C',
  note: 'The holding time of the tempering values is not stated.',
})

export const cardC45E = source({
  id: 'card.c45e',
  status: 'handbook',
  citation: "Steelmaker's technical card C45E (1.1191), edition to EN 10083-2:2006",
  place: 'composition, transformation points, tempering values on 10 mm rounds quenched in water from 850 °C',
  note: 'The holding time of the tempering values is not stated.',
})

export const atlasC45E = source({
  id: 'atlas.c45e-hardening',
  status: 'handbook',
  citation:
    'Metallographic atlas, samples of 1.1191 hardened well, too hot and too cold: range of hardening 820–860 °C',
})

export const sheet34CrMo4 = source({
  id: 'sheet.34crmo4',
  status: 'handbook',
  citation: 'Data sheet 34CrMo4 (1.7220) to EN 10083-3:2006',
  place: 'composition and properties quenched and tempered',
  note: 'Gives neither transformation points nor tempering values.',
})

export const hardening34CrMo4 = source({
  id: 'en-10083-3.heat-treatment',
  status: 'from memory (unverified)',
  citation: 'EN 10083-3:2006, guidance on heat treatment, row 34CrMo4: hardening 830–890 °C in oil or water',
})

export const card16MnCr5 = source({
  id: 'card.16mncr5',
  status: 'handbook',
  citation: "Steelmaker's technical card 16MnCr5 (1.7131), editions to EN 10084 and ISO 683-3:2018",
  place: 'composition, core hardening 860–900 °C, transformation points of the core',
  note: 'Its tempering values could be read, the temperatures they belong to could not: they are left out.',
})

export const boronSteels = source({
  id: 'en-10083-3.boron-steels',
  status: 'from memory (unverified)',
  citation: 'EN 10083-3, chemical composition of 20MnB5 and 30MnB5',
})

export const cardX20Cr13 = source({
  id: 'card.x20cr13',
  status: 'handbook',
  citation:
    "Steelmaker's technical card X20Cr13 (1.4021), edition to EN 10088-3:2005, and a stockist's sheet of the 2014 edition",
  place: 'composition, quenching 950–1050 °C in air, oil or polymer, transformation points, impact energy at 20 °C',
  note: 'Its tempering curve is a picture and could not be read.',
})

export const cardX30Cr13 = source({
  id: 'card.x30cr13',
  status: 'handbook',
  citation: "Steelmaker's technical card X30Cr13 (1.4028), edition of 2018 to EN 10088-3:2014",
  place:
    'composition and product deviations, quenching 980–1080 °C in oil or air, tempering 150–200 °C to about 50 HRC and 625–675 °C to 24–31 HRC, transformation points, impact energy at 20 °C',
  note: 'Two ranges of tempering are printed, no curve between them. Its grade sheet prints 52 HRC out of the quench for 0.30 to 0.40 % carbon.',
})

export const sheetX20Cr13 = source({
  id: 'sheet.x20cr13-embrittlement',
  status: 'handbook',
  citation: 'Data sheet of a steel stockist for X20Cr13 (1.4021)',
  place: 'embrittlement: 425 to 525 °C must be avoided in tempering and use',
})
