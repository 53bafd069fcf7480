using System.Collections.Immutable;
using System.Net;
using System.Numerics;
using System.Text;
using Derivid.Core.Structures;

namespace Derivid.Core.Drawing;

/// <summary>Draws a structure as an SVG picture.</summary>
/// <remarks>
/// A skeletal formula: carbon as corners, other atoms with their hydrogens and charges, rings in one Kekulé form. The
/// picture takes the colour of the text around it (<c>currentColor</c>), has no styles and no script, and says in
/// <c>title</c> what it shows. Each bond is a <c>path</c> with <c>data-bond</c>, <c>data-atoms</c> and <c>data-order</c>;
/// each atom a <c>g</c> with <c>data-atom</c>, <c>data-symbol</c> and <c>data-place</c>, so that it can be read back; atoms
/// are numbered in the order of the molecule's.
/// Units: 30 user units a bond length. Deterministic.
/// Not drawn: configuration of atoms, which the molecule does not keep. A double bond without configuration is drawn as
/// it falls and says nothing of E or Z.
/// Source of the conventions: J. Brecher, "Graphical representation standards for chemical structure diagrams (IUPAC
/// Recommendations 2008)", Pure Appl. Chem. 2008, 80, 277-410 (recalled).
/// </remarks>
public static class StructureDrawing
{
    /// <summary>The most atoms that are drawn, hydrogens on other atoms not counted.</summary>
    public const int MostAtoms = 100;

    private const double Scale = 30;
    private const double Border = 0.35;
    private const double Gap = 0.17;
    private const double InnerCut = 0.12;

    /// <summary>Draws a structure.</summary>
    /// <param name="molecule">The structure.</param>
    /// <param name="title">What the picture shows, such as the compound's name.</param>
    /// <returns>A whole SVG document.</returns>
    /// <exception cref="ArgumentException">It has more than <see cref="MostAtoms"/> atoms.</exception>
    public static string Svg(Molecule molecule, string title)
    {
        ArgumentNullException.ThrowIfNull(molecule);
        ArgumentNullException.ThrowIfNull(title);
        if (molecule.Atoms.Length > MostAtoms)
        {
            throw new ArgumentException(
                $"The structure has {molecule.Atoms.Length} atoms; at most {MostAtoms} are drawn.", nameof(molecule));
        }

        Complex[] places = StructureLayout.Of(molecule, out ImmutableArray<ImmutableArray<int>> rings);
        AtomLabel?[] labels = [.. places.Select((_, atom) => AtomLabel.Of(molecule, atom, places))];
        (Complex Low, Complex High)[] bounds =
            [.. places.Select((place, atom) => labels[atom]?.Bounds() ?? (place, place))];
        var corner = new Complex(
            bounds.Min(box => box.Low.Real) - Border, bounds.Max(box => box.High.Imaginary) + Border);
        var size = new Complex(
            bounds.Max(box => box.High.Real) + Border - corner.Real,
            corner.Imaginary - bounds.Min(box => box.Low.Imaginary) + Border);
        Complex Paper(Complex point) => Scale * Complex.Conjugate(point - corner);

        var svg = new StringBuilder();
        string width = FormattableString.Invariant($"{Scale * size.Real:0.##}");
        string height = FormattableString.Invariant($"{Scale * size.Imaginary:0.##}");
        svg.Append("<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" viewBox=\"0 0 ")
            .Append(width).Append(' ').Append(height)
            .Append("\" width=\"").Append(width).Append("\" height=\"").Append(height).Append("\">\n");
        svg.Append("<title>").Append(WebUtility.HtmlEncode(title)).Append("</title>\n");
        svg.Append("<g fill=\"none\" stroke=\"currentColor\" stroke-width=\"1.4\" stroke-linecap=\"round\">\n");
        for (int index = 0; index < molecule.Bonds.Length; index++)
        {
            Bond bond = molecule.Bonds[index];
            svg.Append(FormattableString.Invariant(
                $"<path data-bond=\"{index}\" data-atoms=\"{bond.First} {bond.Second}\" data-order=\"{bond.Order}\" d=\""));
            svg.AppendJoin(
                ' ',
                Lines(molecule, rings, places, labels, bond).Select(line => Stroke(Paper(line.From), Paper(line.To))));
            svg.Append("\"/>\n");
        }

        svg.Append("</g>\n<g fill=\"currentColor\" font-family=\"Helvetica, Arial, sans-serif\" ");
        svg.Append(FormattableString.Invariant($"font-size=\"{AtomLabel.FontSize * Scale:0.##}\">\n"));
        for (int atom = 0; atom < places.Length; atom++)
        {
            Complex at = Paper(places[atom]);
            svg.Append(FormattableString.Invariant($"<g data-atom=\"{atom}\" data-symbol=\"{molecule.Atoms[atom].Symbol}\" "));
            svg.Append(FormattableString.Invariant($"data-place=\"{at.Real:0.##} {at.Imaginary:0.##}\">"));
            labels[atom]?.Write(svg, Paper, Scale);
            svg.Append("</g>\n");
        }

        return svg.Append("</g>\n</svg>\n").ToString();
    }

    private static string Stroke(Complex from, Complex to) => FormattableString.Invariant(
        $"M{from.Real:0.##} {from.Imaginary:0.##}L{to.Real:0.##} {to.Imaginary:0.##}");

    /// <summary>The lines of a bond, the one between its atoms first where there is one.</summary>
    private static IEnumerable<(Complex From, Complex To)> Lines(
        Molecule molecule, ImmutableArray<ImmutableArray<int>> rings, Complex[] places, AtomLabel?[] labels, Bond bond)
    {
        Complex from = places[bond.First];
        Complex to = places[bond.Second];
        Complex along = (to - from) / Math.Max((to - from).Magnitude, 1e-9);
        Complex aside = along * Complex.ImaginaryOne;
        double cutFrom = labels[bond.First]?.Under(from, to) ?? 0;
        double cutTo = labels[bond.Second]?.Under(to, from) ?? 0;
        int side = bond.Order == 2 ? SecondLine(molecule, rings, places, labels, bond) : 0;
        if (bond.Order == 2 && side != 0)
        {
            yield return Line(0, 0, 0);
            yield return Line(
                side * Gap,
                cutFrom > 0 || molecule.NeighboursOf(bond.First).Length == 1 ? 0 : InnerCut,
                cutTo > 0 || molecule.NeighboursOf(bond.Second).Length == 1 ? 0 : InnerCut);
            yield break;
        }

        for (int line = 0; line < bond.Order; line++)
        {
            yield return Line((line - ((bond.Order - 1) / 2.0)) * (bond.Order > 2 ? 0.8 : 1) * Gap, 0, 0);
        }

        (Complex From, Complex To) Line(double shift, double shortFrom, double shortTo)
        {
            double length = (to - from).Magnitude;
            double start = Math.Min(cutFrom + shortFrom, 0.45 * length);
            double end = Math.Min(cutTo + shortTo, 0.45 * length);
            return (from + (start * along) + (shift * aside), to - (end * along) + (shift * aside));
        }
    }

    /// <summary>On which side a double bond's second line stands: 1 left, -1 right, 0 both lines astride.</summary>
    private static int SecondLine(
        Molecule molecule, ImmutableArray<ImmutableArray<int>> rings, Complex[] places, AtomLabel?[] labels, Bond bond)
    {
        Complex from = places[bond.First];
        Complex to = places[bond.Second];
        int[] beside = [.. molecule.NeighboursOf(bond.First).Concat(molecule.NeighboursOf(bond.Second))
            .Select(next => next.Atom).Where(atom => atom != bond.First && atom != bond.Second)];
        ImmutableArray<int> ring = rings
            .Where(ring => ring.Contains(bond.First) && ring.Contains(bond.Second))
            .OrderByDescending(ring => molecule.AromaticRings.Any(aromatic =>
                aromatic.Length == ring.Length && aromatic.All(ring.Contains)))
            .ThenByDescending(ring => DoubleBonds(molecule, ring))
            .FirstOrDefault();
        if (!ring.IsDefault)
        {
            double inwards = ring.Sum(atom => Plane.Side(from, to, places[atom]));
            return inwards >= 0 ? 1 : -1;
        }

        bool ends = molecule.NeighboursOf(bond.First).Length == 1 || molecule.NeighboursOf(bond.Second).Length == 1;
        bool labelled = labels[bond.First] is not null || labels[bond.Second] is not null;
        if (ends && (labelled || beside.Length != 1))
        {
            return 0;
        }

        double[] sides = [.. beside.Select(atom => Plane.Side(from, to, places[atom])).Where(side => Math.Abs(side) > 0.1)];
        int balance = sides.Count(side => side > 0) - sides.Count(side => side < 0);
        return sides.Length == 0 ? 0
            : balance != 0 ? Math.Sign(balance)
            : sides.Length == 4 ? 0
            : 1;
    }

    private static int DoubleBonds(Molecule molecule, ImmutableArray<int> ring) => molecule.Bonds
        .Count(bond => bond.Order == 2 && ring.Contains(bond.First) && ring.Contains(bond.Second));
}
