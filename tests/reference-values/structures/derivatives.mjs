// Builds the structure of a derivative by editing the parent's, without looking at any formula.
import { Molecule } from 'openchemlib';
import { carbonylCarbonsOf } from './features.mjs';

const HYDROGENS = 7; // ensureHelperArrays: neighbours, rings and parities are ready.

/** The structure with as many carbonyl groups condensed as asked, aldehydes before ketones. */
export function condense(parentSmiles, kind, carbonyls) {
  const molecule = Molecule.fromSmiles(parentSmiles);
  const carbons = carbonylCarbonsOf(molecule);
  if (carbons.length < carbonyls) {
    throw new Error(`${parentSmiles} has ${carbons.length} carbonyl groups, not ${carbonyls}`);
  }
  // Atoms to delete are collected first: deleting renumbers the rest.
  const oxygens = carbons.slice(0, carbonyls).map((carbon) => {
    const oxygen = carbonylOxygenOf(molecule, carbon);
    for (let n = 0; n < Number(kind.reagents_per_carbonyl); n++) {
      attach(molecule, carbon, Molecule.fromSmiles(kind.reagent_smiles), kind);
    }
    return oxygen;
  });
  molecule.deleteAtoms(oxygens);
  molecule.ensureHelperArrays(HYDROGENS);
  return molecule;
}

function attach(molecule, carbon, reagent, kind) {
  const nitrogen = freeAminoOf(reagent) ?? arylAminoOf(reagent);
  const site = nitrogen ?? activeMethyleneOf(reagent);
  if (site === undefined) {
    throw new Error(`${kind.reagent_smiles} has neither an NH2 on nitrogen, oxygen or an aromatic ring nor a methylene between two C=O`);
  }
  const places = molecule.addMolecule(reagent);
  const bond = molecule.addBond(carbon, places[site]);
  molecule.setBondOrder(bond, nitrogen === undefined ? 1 : 2);
  molecule.ensureHelperArrays(HYDROGENS);
}

/** NH2 on N or O: the nucleophilic end of hydrazines, semicarbazide and hydroxylamine. */
function freeAminoOf(reagent) {
  return atomsOf(reagent).find((atom) =>
    reagent.getAtomicNo(atom) === 7
    && reagent.getAllHydrogens(atom) === 2
    && neighboursOf(reagent, atom).some((next) => [7, 8].includes(reagent.getAtomicNo(next))));
}

/** NH2 on an aromatic ring: aniline. */
function arylAminoOf(reagent) {
  return atomsOf(reagent).find((atom) =>
    reagent.getAtomicNo(atom) === 7
    && reagent.getAllHydrogens(atom) === 2
    && neighboursOf(reagent, atom).some((next) => reagent.isAromaticAtom(next)));
}

/** CH2 between two C=O: dimedone. */
function activeMethyleneOf(reagent) {
  const carbonyls = new Set(carbonylCarbonsOf(reagent));
  return atomsOf(reagent).find((atom) =>
    reagent.getAllHydrogens(atom) === 2
    && neighboursOf(reagent, atom).filter((next) => carbonyls.has(next)).length === 2);
}

function carbonylOxygenOf(molecule, carbon) {
  return neighboursOf(molecule, carbon).find((next) =>
    molecule.getAtomicNo(next) === 8 && molecule.getBondOrder(molecule.getBond(carbon, next)) === 2);
}

function atomsOf(molecule) {
  molecule.ensureHelperArrays(HYDROGENS);
  return [...Array(molecule.getAtoms()).keys()];
}

function neighboursOf(molecule, atom) {
  return [...Array(molecule.getConnAtoms(atom)).keys()].map((n) => molecule.getConnAtom(atom, n));
}
