using System.Globalization;
using System.Numerics;
using System.Text;
using Derivid.Core.Structures;

namespace Derivid.Core.Drawing;

/// <summary>The letters at an atom: symbol, hydrogens on the free side, charge, isotope.</summary>
/// <remarks>
/// Units: bond lengths, y up. Widths are those of Helvetica and its like; the symbol itself is centred on the atom in any
/// font, so another font moves the hydrogens a little and nothing else.
/// </remarks>
internal sealed class AtomLabel
{
    /// <summary>Size of the letters.</summary>
    public const double FontSize = 0.5;

    private const double SmallSize = 0.7 * FontSize;
    private const double Margin = 0.1;

    private readonly List<Piece> _pieces = [];

    private AtomLabel(Atom atom, Complex place, double free, double[] bonds)
    {
        double half = Width(atom.Symbol, FontSize) / 2;
        double right = half;
        double left = -half;
        if (atom.Isotope is int mass)
        {
            string text = mass.ToString(CultureInfo.InvariantCulture);
            left -= Width(text, SmallSize);
            _pieces.Add(new Piece(text, place + new Complex(left, 0.2), SmallSize, Anchor.Start));
        }

        if (atom.Hydrogens > 0 && Plane.Between(free, Math.PI) < 0.1)
        {
            left -= HydrogensWidth(atom);
            AddHydrogens(atom, place + new Complex(left, 0));
        }

        _pieces.Add(new Piece(atom.Symbol, place, FontSize, Anchor.Middle));
        if (atom.Hydrogens > 0 && Plane.Between(free, Math.PI) >= 0.1)
        {
            bool beside = Plane.Between(free, 0) < 0.1;
            AddHydrogens(atom, place + (beside
                ? new Complex(right, 0)
                : new Complex(-Width("H", FontSize) / 2, 0.85 * FontSize * Math.Sign(Math.Sin(free)))));
            right += beside ? HydrogensWidth(atom) : 0;
        }

        if (atom.Charge != 0)
        {
            string size = Math.Abs(atom.Charge) > 1 ? Math.Abs(atom.Charge).ToString(CultureInfo.InvariantCulture) : "";
            string sign = size + (atom.Charge > 0 ? "+" : "−");
            double[] taken = atom.Hydrogens > 0 ? [.. bonds, free] : bonds;
            _pieces.Add(right > half
                ? new Piece(sign, place + new Complex(right, 0.2), SmallSize, Anchor.Start)
                : new Piece(sign, place + ChargePlace(half, Width(sign, SmallSize) / 2, taken), SmallSize, Anchor.Middle));
        }
    }

    private enum Anchor
    {
        Start,
        Middle,
    }

    /// <summary>The label of an atom.</summary>
    /// <param name="molecule">The molecule.</param>
    /// <param name="atom">Index of the atom.</param>
    /// <param name="places">Where the atoms lie.</param>
    /// <returns>Missing: null, a carbon atom that is just where its bonds meet.</returns>
    public static AtomLabel? Of(Molecule molecule, int atom, Complex[] places)
    {
        Atom shown = molecule.Atoms[atom];
        double[] bonds = [.. molecule.NeighboursOf(atom).Select(next => (places[next.Atom] - places[atom]).Phase)];
        bool straight = bonds.Length == 2 && molecule.NeighboursOf(atom).All(next => next.Order == 2);
        bool small = bonds.Length == 0
            || (bonds.Length == 1 && molecule.NeighboursOf(molecule.NeighboursOf(atom)[0].Atom).Length == 1);
        bool plain = shown is { Symbol: "C", Charge: 0, Isotope: null } && !straight && !small
            && molecule.NeighboursOf(atom).Sum(next => next.Order) + shown.Hydrogens == 4;
        return plain ? null : new AtomLabel(shown, places[atom], FreeSide(shown, bonds), bonds);
    }

    /// <summary>How far a line from the atom runs under the label. Units: bond lengths.</summary>
    /// <param name="place">The atom.</param>
    /// <param name="towards">The line's other end.</param>
    public double Under(Complex place, Complex towards)
    {
        Complex along = (towards - place) / (towards - place).Magnitude;
        return _pieces.Max(piece => piece.Leaves(place, along));
    }

    /// <summary>The rectangle the label fills, as its lower left and upper right corner.</summary>
    public (Complex Low, Complex High) Bounds() => (
        new Complex(_pieces.Min(piece => piece.Low.Real), _pieces.Min(piece => piece.Low.Imaginary)),
        new Complex(_pieces.Max(piece => piece.High.Real), _pieces.Max(piece => piece.High.Imaginary)));

    /// <summary>Writes the label as one text whose characters read as the formula of the group.</summary>
    /// <param name="svg">Where to.</param>
    /// <param name="paper">Turns a point into the drawing's units, y down.</param>
    /// <param name="scale">Drawing units of a bond length.</param>
    public void Write(StringBuilder svg, Func<Complex, Complex> paper, double scale)
    {
        svg.Append("<text>");
        foreach (Piece piece in _pieces)
        {
            Complex at = paper(piece.Place - new Complex(0, 0.36 * piece.Size));
            string anchor = piece.Anchor == Anchor.Middle ? " text-anchor=\"middle\"" : "";
            string size = piece.Size < FontSize ? Invariant($" font-size=\"{piece.Size * scale:0.##}\"") : "";
            svg.Append(Invariant($"<tspan x=\"{at.Real:0.##}\" y=\"{at.Imaginary:0.##}\"{anchor}{size}>{piece.Text}</tspan>"));
        }

        svg.Append("</text>");
    }

    private static string Invariant(FormattableString text) => FormattableString.Invariant(text);

    /// <summary>Right, left, or above or below where bonds leave room there only.</summary>
    private static double FreeSide(Atom atom, double[] bonds)
    {
        const double Enough = 1.2;
        if (bonds.Length == 0)
        {
            return atom.Symbol is "O" or "S" or "F" or "Cl" or "Br" or "I" ? Math.PI : 0;
        }

        double[] sides = [0, Math.PI, Math.PI / 2, -Math.PI / 2];
        double Room(double side) => Math.Round(bonds.Min(bond => Plane.Between(bond, side)), 3);
        int enough = Array.FindIndex(sides, side => Room(side) > Enough);
        return enough >= 0 ? sides[enough] : sides.MaxBy(Room);
    }

    /// <summary>Where a charge stands clear of the bonds: above right if it can.</summary>
    private static Complex ChargePlace(double half, double own, double[] taken)
    {
        const double Enough = 0.7;
        double side = half + own;
        Complex[] corners =
        [
            new(side, 0.2), new(0, 0.36), new(-side, 0.2), new(side, -0.2),
            new(-side, -0.2), new(side, 0), new(-side, 0), new(0, -0.36),
        ];
        double Room(Complex corner) =>
            Math.Round(taken.Select(bond => Plane.Between(bond, corner.Phase)).DefaultIfEmpty(Math.PI).Min(), 3);
        Complex first = corners.FirstOrDefault(corner => Room(corner) > Enough);
        return first != Complex.Zero ? first : corners.MaxBy(Room);
    }

    private static double HydrogensWidth(Atom atom) => Width("H", FontSize)
        + (atom.Hydrogens > 1 ? Width(atom.Hydrogens.ToString(CultureInfo.InvariantCulture), SmallSize) : 0);

    private static double Width(string text, double size) => size * text.Sum(letter => letter switch
    {
        'C' or 'H' or 'N' or 'R' => 0.72,
        'O' or 'Q' or 'G' => 0.78,
        'B' or 'S' or 'P' or 'K' => 0.67,
        'F' => 0.61,
        'I' or 'i' or 'l' or 'j' => 0.25,
        'r' or 't' or 'f' => 0.33,
        >= '0' and <= '9' => 0.56,
        'M' or 'm' => 0.83,
        _ => 0.58,
    });

    private void AddHydrogens(Atom atom, Complex place)
    {
        _pieces.Add(new Piece("H", place, FontSize, Anchor.Start));
        if (atom.Hydrogens > 1)
        {
            _pieces.Add(new Piece(
                atom.Hydrogens.ToString(CultureInfo.InvariantCulture),
                place + new Complex(Width("H", FontSize), -0.13),
                SmallSize,
                Anchor.Start));
        }
    }

    /// <summary>Some letters; the place is the middle of their height, at their start or middle.</summary>
    private sealed record Piece(string Text, Complex Place, double Size, Anchor Anchor)
    {
        public Complex Low => Place - new Complex(Anchor == Anchor.Middle ? Width(Text, Size) / 2 : 0, 0.36 * Size);

        public Complex High => Low + new Complex(Width(Text, Size), 0.72 * Size);

        /// <summary>Where a line from a point leaves the letters and the margin around them; 0 where it misses them.</summary>
        public double Leaves(Complex from, Complex along)
        {
            (double enterX, double leaveX) = Within(Low.Real - Margin - from.Real, High.Real + Margin - from.Real, along.Real);
            (double enterY, double leaveY) =
                Within(Low.Imaginary - Margin - from.Imaginary, High.Imaginary + Margin - from.Imaginary, along.Imaginary);
            double leave = Math.Min(leaveX, leaveY);
            return leave > Math.Max(0, Math.Max(enterX, enterY)) ? leave : 0;
        }

        private static (double Enter, double Leave) Within(double low, double high, double slope)
        {
            if (Math.Abs(slope) < 1e-9)
            {
                return low <= 0 && high >= 0 ? (double.NegativeInfinity, double.PositiveInfinity) : (1, -1);
            }

            double one = low / slope;
            double other = high / slope;
            return (Math.Min(one, other), Math.Max(one, other));
        }
    }
}
