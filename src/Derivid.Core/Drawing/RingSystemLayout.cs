using System.Collections.Immutable;
using System.Numerics;
using Derivid.Core.Structures;

namespace Derivid.Core.Drawing;

/// <summary>Lays out the rings that share atoms with each other.</summary>
/// <remarks>
/// Single rings are regular polygons, set against each other at the bonds they share (fused) or across the atom they
/// share (spiro). Rings that share more than a bond are one <see cref="Cage"/>; so is a whole system whose polygons
/// don't close or come to lie on each other.
/// </remarks>
internal static class RingSystemLayout
{
    private const double MostMisfit = 0.2;
    private const double LeastDistance = 0.6;

    /// <summary>Positions of a ring system's atoms. Units: bond lengths.</summary>
    public static Dictionary<int, Complex> Of(
        Molecule molecule, ImmutableArray<int> system, IEnumerable<ImmutableArray<int>> rings)
    {
        List<Dictionary<int, Complex>> pieces = [.. Joined(rings.Where(ring => system.Contains(ring[0])))
            .Select(group => group.Length == 1
                ? Polygon(group[0])
                : Cage.Of(molecule, [.. group.SelectMany(ring => ring).Distinct().Order()]))];
        Dictionary<int, Complex> first = pieces.MaxBy(piece => piece.Count)!;
        var placed = new Dictionary<int, Complex>(first);
        pieces.Remove(first);
        while (pieces.Count > 0)
        {
            Dictionary<int, Complex> next = pieces.MaxBy(piece => piece.Keys.Count(placed.ContainsKey))!;
            pieces.Remove(next);
            if (!Attach(molecule, next, placed))
            {
                return Cage.Of(molecule, system);
            }
        }

        return IsCrowded([.. placed.Values]) ? Cage.Of(molecule, system) : placed;
    }

    /// <summary>Whether two of the rings on these atoms share more than a bond.</summary>
    public static bool IsBridged(ImmutableArray<int> atoms, ImmutableArray<ImmutableArray<int>> rings) => rings.Any(ring =>
        atoms.Contains(ring[0]) && rings.Any(other => other != ring && other.Intersect(ring).Count() > 2));

    /// <summary>Rings in groups; those of a group share more than one bond with another of it.</summary>
    private static List<ImmutableArray<ImmutableArray<int>>> Joined(IEnumerable<ImmutableArray<int>> rings)
    {
        var groups = new List<ImmutableArray<ImmutableArray<int>>>();
        foreach (ImmutableArray<int> ring in rings)
        {
            ImmutableArray<ImmutableArray<int>>[] bridged =
                [.. groups.Where(group => group.Any(other => other.Intersect(ring).Count() > 2))];
            groups.RemoveAll(group => bridged.Contains(group));
            groups.Add([.. bridged.SelectMany(group => group), ring]);
        }

        return groups;
    }

    private static Dictionary<int, Complex> Polygon(ImmutableArray<int> ring)
    {
        double radius = 0.5 / Math.Sin(Math.PI / ring.Length);
        return ring.Select((atom, index) => (atom, index)).ToDictionary(
            pair => pair.atom,
            pair => Complex.FromPolarCoordinates(radius, Math.Tau * pair.index / ring.Length));
    }

    private static bool Attach(Molecule molecule, Dictionary<int, Complex> piece, Dictionary<int, Complex> placed)
    {
        int[] shared = [.. piece.Keys.Where(placed.ContainsKey)];
        Dictionary<int, Complex>[] ways = shared.Length == 1
            ? [Across(molecule, piece, placed, shared[0])]
            : [Fitted(piece, placed, shared, mirror: false), Fitted(piece, placed, shared, mirror: true)];
        ways = [.. ways.Where(way => shared.All(atom => (way[atom] - placed[atom]).Magnitude < MostMisfit))];
        if (ways.Length == 0)
        {
            return false;
        }

        Dictionary<int, Complex> best = ways.MaxBy(way =>
            Clearance(way.Where(entry => !placed.ContainsKey(entry.Key)).Select(entry => entry.Value), placed.Values))!;
        foreach ((int atom, Complex place) in best)
        {
            placed.TryAdd(atom, place);
        }

        return true;
    }

    /// <summary>Turned and shifted so that the shared atoms come as near as can be to where they are.</summary>
    private static Dictionary<int, Complex> Fitted(
        Dictionary<int, Complex> piece, Dictionary<int, Complex> placed, int[] shared, bool mirror)
    {
        Dictionary<int, Complex> form = mirror
            ? piece.ToDictionary(entry => entry.Key, entry => Complex.Conjugate(entry.Value))
            : piece;
        Complex from = Mean(shared.Select(atom => form[atom]));
        Complex to = Mean(shared.Select(atom => placed[atom]));
        Complex turn = shared.Aggregate(
            Complex.Zero, (sum, atom) => sum + ((placed[atom] - to) * Complex.Conjugate(form[atom] - from)));
        turn = turn.Magnitude > 1e-9 ? turn / turn.Magnitude : Complex.One;
        return form.ToDictionary(entry => entry.Key, entry => to + (turn * (entry.Value - from)));
    }

    /// <summary>Turned so that it lies across the shared atom from what is there.</summary>
    private static Dictionary<int, Complex> Across(
        Molecule molecule, Dictionary<int, Complex> piece, Dictionary<int, Complex> placed, int atom)
    {
        double free = Plane.Spread(
            molecule.NeighboursOf(atom).Where(next => placed.ContainsKey(next.Atom))
                .Select(next => (placed[next.Atom] - placed[atom]).Phase),
            1)[0];
        double own = (Mean(molecule.NeighboursOf(atom).Where(next => piece.ContainsKey(next.Atom))
            .Select(next => piece[next.Atom])) - piece[atom]).Phase;
        Complex turn = Plane.Step(free - own);
        return piece.ToDictionary(entry => entry.Key, entry => placed[atom] + (turn * (entry.Value - piece[atom])));
    }

    private static Complex Mean(IEnumerable<Complex> points)
    {
        Complex[] all = [.. points];
        return all.Aggregate(Complex.Zero, (sum, point) => sum + point) / all.Length;
    }

    /// <summary>The least distance between points of two sets; infinite where one of them is empty.</summary>
    private static double Clearance(IEnumerable<Complex> some, IEnumerable<Complex> others) =>
        some.SelectMany(_ => others, (one, other) => (one - other).Magnitude)
            .DefaultIfEmpty(double.PositiveInfinity)
            .Min();

    private static bool IsCrowded(Complex[] places) => places
        .Where((place, index) => Clearance([place], places.Skip(index + 1)) < LeastDistance)
        .Any();
}
