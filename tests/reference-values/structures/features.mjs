// Asks OpenChemLib's substructure search for the features of feature-queries.csv.
import { readFileSync } from 'node:fs';
import { parse } from 'csv-parse/sync';
import { SmilesParser, SSSearcher } from 'openchemlib';

const parser = new SmilesParser({ smartsMode: 'smarts', createSmartsWarnings: true });

function fragmentOf(smarts) {
  const fragment = parser.parseMolecule(smarts);
  const warning = parser.getSmartsWarning();
  if (warning) {
    throw new Error(`${smarts} is not fully understood: ${warning}`);
  }
  fragment.setFragment(true);
  return fragment;
}

const queries = parse(readFileSync(new URL('feature-queries.csv', import.meta.url)), { columns: true }).map((row) => ({
  feature: row.feature,
  fragment: fragmentOf(row.smarts),
}));

/** Names of the features whose query, or one of whose queries, is found. */
export function featuresOf(molecule) {
  const found = new Set();
  const searcher = new SSSearcher();
  searcher.setMolecule(molecule);
  for (const { feature, fragment } of queries) {
    searcher.setFragment(fragment);
    if (searcher.isFragmentInMolecule()) {
      found.add(feature);
    }
  }
  return [...found];
}

/** Atoms that are the carbon of an aldehyde or ketone group, aldehydes first. */
export function carbonylCarbonsOf(molecule) {
  const carbons = new Set();
  const searcher = new SSSearcher();
  searcher.setMolecule(molecule);
  // The first atom of each query is the carbonyl carbon.
  for (const smarts of ['[C;H2]=O', '[C;H1](=O)-[#6]', 'C(=O)(-[#6])-[#6]']) {
    searcher.setFragment(fragmentOf(smarts));
    searcher.findFragmentInMolecule({ countMode: 'overlapping' });
    for (const match of searcher.getMatchList()) {
      carbons.add(match[0]);
    }
  }
  return [...carbons];
}
