using System.Collections.Immutable;
using System.Numerics;
using Derivid.Core.Structures;

namespace Derivid.Core.Drawing;

/// <summary>Turns branches about their bonds until nothing lies on top of anything else.</summary>
/// <remarks>
/// First the configurations given. Then, bond by bond, the branch behind it is turned over where that spreads the whole
/// further apart; where atoms or bonds still clash, it is also swung aside a little. Ends when nothing helps any more.
/// </remarks>
internal sealed class Uncrowding
{
    private const int MostRounds = 8;
    private const double Clash = 5;
    private const double WorthTurning = 0.02;

    private static readonly double[] Swings = [Math.PI / 12, -Math.PI / 12, Math.PI / 6, -Math.PI / 6, Math.PI / 3, -Math.PI / 3];

    private readonly Molecule _molecule;
    private readonly Complex[] _places;
    private readonly ImmutableArray<int> _part;
    private readonly Bond[] _bonds;

    private Uncrowding(Molecule molecule, ImmutableArray<int> part, Complex[] places)
    {
        _molecule = molecule;
        _places = places;
        _part = part;
        _bonds = [.. molecule.Bonds.Where(bond => part.Contains(bond.First))];
    }

    /// <summary>Settles one connected part.</summary>
    /// <param name="molecule">The molecule.</param>
    /// <param name="part">The part's atoms.</param>
    /// <param name="places">Points of the whole molecule; those of the part are changed.</param>
    public static void Settle(Molecule molecule, ImmutableArray<int> part, Complex[] places)
    {
        var uncrowding = new Uncrowding(molecule, part, places);
        uncrowding.Configure();
        Hinge[] hinges = [.. uncrowding.Hinges()];
        uncrowding.Improve(hinges, uncrowding.TurnedOver, always: true);
        uncrowding.Improve(hinges, uncrowding.Swung, always: false);
    }

    /// <summary>A bond that a branch can be turned about.</summary>
    private sealed record Hinge(int Fixed, int Moving, int[] Branch, int[] Rest, bool IsConfigured);

    private void Configure()
    {
        foreach (DoubleBondConfiguration given in _molecule.Configurations)
        {
            Complex first = _places[given.First];
            Complex second = _places[given.Second];
            bool sameSide = Plane.Side(first, second, _places[given.BesideFirst])
                * Plane.Side(first, second, _places[given.BesideSecond]) > 0;
            if (!IsInRing(given.First, given.Second) && _part.Contains(given.First) && sameSide != given.SameSide)
            {
                Move(Branch.From(_molecule, given.Second, given.First), place => Plane.Mirrored(place, first, second));
            }
        }
    }

    private IEnumerable<Hinge> Hinges()
    {
        foreach (Bond bond in _bonds.Where(bond => !IsInRing(bond.First, bond.Second)))
        {
            int[] one = [.. Branch.From(_molecule, bond.First, bond.Second)];
            int[] other = [.. Branch.From(_molecule, bond.Second, bond.First)];
            bool configured = _molecule.Configurations.Any(given =>
                (given.First, given.Second) == (bond.First, bond.Second)
                || (given.First, given.Second) == (bond.Second, bond.First));
            yield return one.Length < other.Length
                ? new Hinge(bond.Second, bond.First, one, other, configured)
                : new Hinge(bond.First, bond.Second, other, one, configured);
        }
    }

    private bool IsInRing(int one, int other) =>
        _molecule.NeighboursOf(one).Any(next => next.Atom == other && _molecule.IsRingBond(next.Bond));

    private void Improve(Hinge[] hinges, Func<Hinge, IEnumerable<Func<Complex, Complex>>> moves, bool always)
    {
        for (int round = 0; round < MostRounds; round++)
        {
            bool helped = false;
            foreach (Hinge hinge in hinges)
            {
                double before = Crowding(hinge);
                if (always || before >= Clash)
                {
                    helped |= Best(hinge, moves(hinge), before);
                }
            }

            if (!helped)
            {
                return;
            }
        }
    }

    private bool Best(Hinge hinge, IEnumerable<Func<Complex, Complex>> moves, double before)
    {
        Complex[] start = [.. hinge.Branch.Select(atom => _places[atom])];
        Complex[] best = start;
        double least = before - WorthTurning;
        foreach (Func<Complex, Complex> move in moves)
        {
            Move(hinge.Branch, move);
            double now = Crowding(hinge);
            if (now < least)
            {
                (least, best) = (now, [.. hinge.Branch.Select(atom => _places[atom])]);
            }

            Put(hinge.Branch, start);
        }

        Put(hinge.Branch, best);
        return !ReferenceEquals(best, start);
    }

    private IEnumerable<Func<Complex, Complex>> TurnedOver(Hinge hinge)
    {
        Complex from = _places[hinge.Fixed];
        Complex to = _places[hinge.Moving];
        return hinge.IsConfigured ? [] : [place => Plane.Mirrored(place, from, to)];
    }

    private IEnumerable<Func<Complex, Complex>> Swung(Hinge hinge)
    {
        Complex pivot = _places[hinge.Fixed];
        return TurnedOver(hinge).Concat(Swings.Select(swing => new Func<Complex, Complex>(
            place => pivot + (Plane.Step(swing) * (place - pivot)))));
    }

    private void Move(IEnumerable<int> atoms, Func<Complex, Complex> move)
    {
        foreach (int atom in atoms)
        {
            _places[atom] = move(_places[atom]);
        }
    }

    private void Put(int[] atoms, Complex[] places)
    {
        for (int index = 0; index < atoms.Length; index++)
        {
            _places[atoms[index]] = places[index];
        }
    }

    /// <summary>How much a branch and the rest are in each other's way; <see cref="Clash"/> and more where they clash.</summary>
    private double Crowding(Hinge hinge)
    {
        double crowding = 0;
        var moving = hinge.Branch.ToHashSet();
        foreach (int one in hinge.Branch)
        {
            foreach (int other in hinge.Rest)
            {
                if (one == hinge.Moving && other == hinge.Fixed)
                {
                    continue;
                }

                double distance = Math.Max((_places[one] - _places[other]).Magnitude - Room(one) - Room(other), 0.05);
                crowding += 0.1 / (distance * distance);
                crowding += distance < 0.8 ? Clash + (20 * (0.8 - distance)) : 0;
            }
        }

        Bond[] branchBonds = [.. _bonds.Where(bond => moving.Contains(bond.First) && moving.Contains(bond.Second))];
        Bond[] restBonds = [.. _bonds.Where(bond => !moving.Contains(bond.First) && !moving.Contains(bond.Second))];
        foreach (Bond bond in branchBonds)
        {
            crowding += 4 * Clash * restBonds.Count(other => Plane.Cross(
                _places[bond.First], _places[bond.Second], _places[other.First], _places[other.Second]));
        }

        return crowding;
    }

    /// <summary>What an atom's label takes up around it. Units: bond lengths.</summary>
    private double Room(int atom) => _molecule.Atoms[atom] switch
    {
        { Symbol: "C" } => 0,
        { Hydrogens: > 0 } or { Charge: not 0 } => 0.12,
        _ => 0.06,
    };
}
