/** Names that boards and loggers write in several languages, with the unit that a careful reader takes. Invented data, shapes from memory. */
import { describe, expect, it } from 'vitest';
import { nameMeaning } from '../../../../shared/lines/learning/names/column-name.ts';

describe('units of pressure behind a name', () => {
  it.each([
    ['Draft hPa', 'hPa'],
    ['Tiraggio hPa', 'hPa'],
    ['Zug_hPa', 'hPa'],
    ['DrafthPa', 'hPa'],
    ['draft kPa', 'kPa'],
    ['Tirage mbar', 'mbar'],
    ['Draft Pa', 'Pa'],
    ['Zug Pa', 'Pa'],
    ['Draft mmH2O', 'mmH2O'],
    ['Zug mmWS', 'mmH2O'],
    ['Draft daPa', 'daPa'],
    ['draft_mmWC', 'mmH2O'],
    ['Draft inWC', 'inH2O'],
    ['draft_inH2O', 'inH2O'],
  ])('%s is a draft in %s', (name, unit) => {
    const { roles, unit: said } = nameMeaning(name);
    expect([roles.draft, said]).toEqual([3, unit]);
  });

  it.each(['draft MPa', 'Draft mPa'])('%s is in no unit that is known, and never in Pa', (name) => {
    expect(nameMeaning(name).unit).toBeUndefined();
  });
});

describe('CO that the instrument has computed is never taken for measured, in any language', () => {
  it.each([
    'CO skorygowane [ppm]',
    'CO non dilué [ppm]',
    'CO dilué (ppm)',
    'CO non diluito ppm',
    'CO sin diluir ppm',
    'CO nierozc. [ppm]',
    'CO nierozcieńczone ppm',
    'CO diluted ppm',
    'CO undil ppm',
    'co_3pct',
    'co_0_pct_o2',
    'CO 3 vol% O2',
    'CO przel. [ppm]',
    'CO odn. 3% [ppm]',
    'CO senza aria ppm',
    'CO sans air ppm',
    'CO libre de aire ppm',
    'CO luchtvrij ppm',
    'CO eq ppm',
    'CO est. ppm',
  ])('%s', (name) => {
    const { roles } = nameMeaning(name);
    expect([roles.co, roles.coCorrected]).toEqual([undefined, 3]);
  });

  it.each(['CO env. ppm', 'CO otocz. [ppm]', 'CO omgeving [ppm]', 'CO w pomieszczeniu [ppm]'])('%s is that of the room', (name) => {
    const { roles } = nameMeaning(name);
    expect([roles.co, roles.ambientCo]).toEqual([undefined, 3]);
  });

  it.each(['O2 rif. [%]', 'O2 odn. [%]', 'O2 ref [%]'])('%s is what figures are referred to', (name) => {
    const { roles } = nameMeaning(name);
    expect([roles.o2, roles.reference]).toEqual([undefined, 3]);
  });
});

describe('places and gases in other languages', () => {
  it.each([
    ['co', ['co1_pct', 'CO1 vol%', 'Koolmonoxide [ppm]', 'CO H2-komp. ppm', 'CO gemessen [ppm]', 'CO medido ppm']],
    ['stack', ['Verbrandingsgas [°C]', 'Tfl°C', 'Temp. gaz [°C]', 'T.gaz [°C]', 'Temp. spalin [°C]']],
    [
      'air',
      [
        'TRaum [°C]',
        'Tam°C',
        'Taria [°C]',
        'Taire (°C)',
        'Omgevingstemp [°C]',
        'Ruimtetemp. [°C]',
        'Verbrandingslucht [°C]',
        'Totoczenia [°C]',
        'T pow. [°C]',
        'T Umg. [°C]',
        'Temp. pomieszczenia [°C]',
      ],
    ],
    ['draft', ['Trek [Pa]', 'Tiro (Pa)', 'Ciąg [Pa]', 'P flue [Pa]', 'flue pressure [hPa]', 'Abgasdruck [Pa]', 'p Kamin [Pa]']],
  ] as const)('%s: %s', (role, names) => {
    for (const name of names) expect([name, nameMeaning(name).roles[role]]).toEqual([name, 3]);
  });
});
