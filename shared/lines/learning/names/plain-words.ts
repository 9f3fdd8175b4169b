const plainLetters: Record<string, string> = { '₂': '2', ₓ: 'x', '₀': '0', ß: 'ss', ø: 'o', ł: 'l' };

/** 'hPa', 'mmH2O': parted at the capital like two words, what is left would be another unit, a hundred times off. */
const pressureUnit = /[ _]?((?:h|k|m|M|da)Pa|(?:mm|cm|in)[ _]?(?:H2O|WC|WS|WG|Hg))(?![A-Za-z0-9])/g;

/** 'stackTemp_C' -> 'stack temp c'; chemical formulas and units of pressure stay in one piece. */
export const words = (name: string): string =>
  name
    .replace(/[₂ₓ₀]/g, (sign) => plainLetters[sign] ?? sign)
    .replace(pressureUnit, (_, unit: string) => ` ${unit.replace(/[ _]/g, '').toLowerCase()}`)
    .replace(/(\w)\s+[-\u2212\u2013]\s+(?=[A-Za-z])/g, '$1 minus ')
    .replace(/([a-z0-9])([A-Z][a-z])/g, '$1 $2')
    .replace(/([a-z]{2})([A-Z])/g, '$1 $2')
    .toLowerCase()
    .replace(/[ßøł]/g, (sign) => plainLetters[sign] ?? sign)
    .normalize('NFD')
    .replace(/\p{M}+/gu, '')
    .replace(/[^a-z0-9%/#@λ]+/g, ' ')
    .trim();
