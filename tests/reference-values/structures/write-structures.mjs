// Writes structures.csv: what OpenChemLib says of every parent and derivative in the seed tables and of the structures
// in public-structures.csv, and of bare atoms for their atomic weights. Usage: npm ci && node write-structures.mjs
import { readFileSync, writeFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import { stringify } from 'csv-stringify/sync';
import { Molecule } from 'openchemlib';
import { condense } from './derivatives.mjs';
import { carbonylCarbonsOf, featuresOf } from './features.mjs';
import { otherSmilesOf } from './other-smiles.mjs';

const here = (name) => new URL(name, import.meta.url);
const table = (name) => parse(readFileSync(here(name)), { columns: true });
const seedTable = (name) => table(`../../../seed-tables/${name}`);

/** Hill order, which OpenChemLib does not keep; D and T count as H. */
function hill(formula) {
  const counts = {};
  for (const [, symbol, count] of formula.matchAll(/([A-Z][a-z]?)(\d*)/g)) {
    const element = symbol === 'D' || symbol === 'T' ? 'H' : symbol;
    counts[element] = (counts[element] ?? 0) + Number(count || 1);
  }
  const rank = (symbol) => (counts.C ? { C: '0', H: '1' }[symbol] ?? symbol : symbol);
  return Object.keys(counts)
    .sort((a, b) => (rank(a) < rank(b) ? -1 : 1))
    .map((symbol) => symbol + (counts[symbol] > 1 ? counts[symbol] : ''))
    .join('');
}

function hasIsotopes(molecule) {
  return [...Array(molecule.getAllAtoms()).keys()].some((atom) => molecule.getAtomMass(atom) !== 0);
}

function ringBonds(molecule) {
  molecule.ensureHelperArrays(7);
  return [...Array(molecule.getBonds()).keys()].filter((bond) => molecule.isRingBond(bond)).length;
}

function row(role, key, smiles, molecule, more) {
  const { formula, relativeWeight } = molecule.getMolecularFormula();
  return {
    role,
    key,
    kind_key: '',
    carbonyls_condensed: '',
    smiles,
    formula: hill(formula),
    // Of labelled compounds OpenChemLib gives the labelled mass, which is another quantity.
    molar_mass: hasIsotopes(molecule) ? '' : relativeWeight.toFixed(5),
    ring_bonds: ringBonds(molecule),
    carbonyls: carbonylCarbonsOf(molecule).length,
    features: featuresOf(molecule).join(' '),
    other_smiles: ['derivative', 'element'].includes(role) ? '' : otherSmilesOf(molecule).join(' '),
    ...more,
  };
}

function parentRow({ key, smiles }) {
  return row('parent', key, smiles, Molecule.fromSmiles(smiles));
}

function derivativeRows(parents, kinds, derivatives) {
  const smilesOf = new Map(parents.map((parent) => [parent.key, parent.smiles]));
  const kindOf = new Map(kinds.map((kind) => [kind.key, kind]));
  const pairs = new Map(derivatives.map((d) => [`${d.parent_key} ${d.kind_key} ${d.carbonyls_condensed}`, d]));
  return [...pairs.values()].map(({ parent_key, kind_key, carbonyls_condensed }) => {
    const molecule = condense(smilesOf.get(parent_key), kindOf.get(kind_key), Number(carbonyls_condensed));
    return row('derivative', parent_key, molecule.toIsomericSmiles(), molecule, { kind_key, carbonyls_condensed });
  });
}

function publicRow({ name, smiles, formula }) {
  const written = row('public', name, smiles, Molecule.fromSmiles(smiles));
  if (formula && formula !== written.formula) {
    throw new Error(`${name}: ${formula} is recalled, but ${smiles} is ${written.formula}`);
  }
  return written;
}

// Al is left out: the toolkit fills a bare [Al] up to AlH3. The others have no standard atomic weight.
const NOT_AS_BARE_ATOMS = ['Al', 'Tc', 'Pm', 'Po', 'At', 'Rn', 'Fr', 'Ra', 'Ac'];

function elementRows() {
  return Molecule.cAtomLabel
    .slice(1, 93)
    .filter((symbol) => !NOT_AS_BARE_ATOMS.includes(symbol))
    .map((symbol) => row('element', symbol, `[${symbol}]`, Molecule.fromSmiles(`[${symbol}]`)));
}

const parents = seedTable('parents.csv');
const rows = [
  ...parents.map(parentRow),
  ...derivativeRows(parents, seedTable('derivative-kinds.csv'), seedTable('derivatives.csv')),
  ...table('public-structures.csv').map(publicRow),
  ...elementRows(),
];
writeFileSync(here('structures.csv'), stringify(rows, { header: true }));
console.log(`${rows.length} structures written`);
