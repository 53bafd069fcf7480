using Derivid.Core.Melting;

namespace Derivid.Core.Practice;

/// <summary>Where an enthalpy of fusion is from.</summary>
public enum EnthalpyBasis
{
    /// <summary>It was sent.</summary>
    Sent,

    /// <summary>A source prints it for this substance.</summary>
    Printed,

    /// <summary>None is known: a span of entropies of fusion stands in, so what follows is a bound.</summary>
    Bounded,
}

/// <summary>An enthalpy of fusion to reckon with.</summary>
/// <param name="JoulesPerMole">Units: J/mol.</param>
/// <param name="Basis">Where it is from.</param>
/// <param name="SourceKeys">Who prints it, or the entropies of the span. Shape: by key; empty, it was sent.</param>
public sealed record FusionEnthalpy(AmountSpan JoulesPerMole, EnthalpyBasis Basis, IReadOnlyList<string> SourceKeys);

/// <summary>How impure a sample is that melts lower than listed, an interval.</summary>
/// <remarks>
/// By <see cref="IdealLiquidus"/>, of the clear point. The interval holds two standard deviations of the reading (thermometer and
/// reader), whatever clear points are listed, and the span of enthalpies of a bound; not what <see cref="ReadingTopic.Purity"/> warns of.
/// </remarks>
public sealed record PurityEstimate
{
    /// <summary>
    /// Beyond this the other substance is the main one, and of two alike the eutectic is long passed. Mole fraction.
    /// </summary>
    public const double MostImpurity = 0.5;

    /// <summary>
    /// What takes longer to melt is no melting range: the law is of a clear point. Units: °C, a difference. Chosen: ten times what
    /// a pure sample takes.
    /// </summary>
    public const double MostSpanCelsius = 20;

    /// <summary>
    /// What melts farther below, errors and all, is not this compound. Units: °C, a difference. Chosen: where naphthalene and biphenyl
    /// meet with more than half of biphenyl. Source: lee-warner-1935.
    /// </summary>
    public const double MostDepressionCelsius = 40;

    /// <summary>Entropy of fusion by Walden's rule, 13.5 cal/(mol K). Units: J/(mol K). Source: walden-rule-kotobank.</summary>
    private const double WaldenEntropy = 13.5 * 4.184;

    /// <summary>Standard deviations of the reading on either side. Chosen: 95 of 100.</summary>
    private const double Deviations = 2;

    /// <summary>Clear points listed for the pure substance, or the one sent. Units: °C.</summary>
    public required AmountSpan PureCelsius { get; init; }

    /// <summary>Onset and clear point as read. Units: °C.</summary>
    public required AmountSpan ReadCelsius { get; init; }

    /// <summary>The same after the thermometer's correction. Units: °C.</summary>
    public required AmountSpan CorrectedCelsius { get; init; }

    /// <summary>How far thermometer and reader may be out, one standard deviation. Units: °C.</summary>
    public required double ErrorCelsius { get; init; }

    /// <summary>How much lower its clear point lies, errors and all; nothing at the least. Units: °C, a difference.</summary>
    public required AmountSpan DepressionCelsius { get; init; }

    /// <summary>The enthalpy of fusion. Units: kJ/mol.</summary>
    public required AmountSpan KilojoulesPerMole { get; init; }

    /// <summary>Where it is from.</summary>
    public required EnthalpyBasis Basis { get; init; }

    /// <summary>Who prints it. Shape: by key; empty, it was sent.</summary>
    public required IReadOnlyList<string> SourceKeys { get; init; }

    /// <summary>Mole fraction of impurity by the whole law. Bounds: 0 to <see cref="MostImpurity"/>.</summary>
    public required AmountSpan Impurity { get; init; }

    /// <summary>The same by the linear law (van 't Hoff), for comparison with texts. Bounds: the same.</summary>
    public required AmountSpan ImpurityByLinearLaw { get; init; }

    /// <summary>Whether it would come to more than the law can tell.</summary>
    public required bool IsBeyondLaw { get; init; }

    /// <summary>The same in words.</summary>
    public required string Sentence { get; init; }

    /// <summary>What it was worked out from and comes to, named. Shape: in the order of the working.</summary>
    public IEnumerable<(string Name, string Value)> Figures()
    {
        yield return ("Read", Figure.Range(ReadCelsius.Low, ReadCelsius.High));
        if (CorrectedCelsius != ReadCelsius)
        {
            yield return ("Corrected by the thermometer", Figure.Range(CorrectedCelsius.Low, CorrectedCelsius.High));
        }

        yield return ("Clear point when pure", Figure.Range(PureCelsius.Low, PureCelsius.High));
        yield return ("Error of thermometer and reader", $"{Figure.Text(ErrorCelsius, 1)} °C, twice of it taken on either side");
        yield return ("Depression", Figure.Range(DepressionCelsius.Low, DepressionCelsius.High));
        yield return ("Enthalpy of fusion", $"{Figure.Span(KilojoulesPerMole.Low, KilojoulesPerMole.High, 1)} kJ/mol, {Basis switch
        {
            EnthalpyBasis.Sent => "as you say",
            EnthalpyBasis.Printed => $"printed [{string.Join(", ", SourceKeys)}]",
            EnthalpyBasis.Bounded => $"a span from the entropies of other substances [{string.Join(", ", SourceKeys)}]",
        }}");
        yield return ("Impurity, law of Schröder and van Laar", MolePercent(Impurity));
        yield return ("Impurity, linear law of van ’t Hoff", MolePercent(ImpurityByLinearLaw));
    }

    /// <summary>Why a range says nothing of the purity. Missing: null, it does.</summary>
    /// <param name="pureCelsius">Clear points of the pure substance. Units: °C.</param>
    /// <param name="corrected">The range after the thermometer's correction.</param>
    /// <param name="errorCelsius">How far thermometer and reader may be out, one standard deviation. Units: °C.</param>
    public static string? WhyNone(AmountSpan pureCelsius, MeltingRange corrected, double errorCelsius)
    {
        if (WhyAbove(pureCelsius, corrected, errorCelsius) is { } above)
        {
            return above;
        }

        if (corrected.SpanCelsius > MostSpanCelsius)
        {
            return $"From onset to clear point it takes {Figure.Degrees(corrected.SpanCelsius)} °C. More than {Figure.Degrees(MostSpanCelsius)} °C is taken for no melting range to judge purity by: it is a mixture, wet, or decomposing. Recrystallise, dry and melt it again.";
        }

        var depression = pureCelsius.Low - corrected.ClearPointCelsius;
        return depression - (Deviations * errorCelsius) > MostDepressionCelsius
            ? $"It melts {Figure.Degrees(depression)} °C below what is listed or expected. Farther than {Figure.Degrees(MostDepressionCelsius)} °C below is taken for not this compound, or less than half of it: the law tells nothing there."
            : null;
    }

    /// <summary>What it means that a range lies above what no impurity raises. Missing: null, it does not.</summary>
    /// <inheritdoc cref="WhyNone"/>
    public static string? WhyAbove(AmountSpan pureCelsius, MeltingRange corrected, double errorCelsius)
    {
        var (above, error) = (corrected.ClearPointCelsius - pureCelsius.High, Deviations * errorCelsius);
        return above > error
            ? $"It melts {Figure.Degrees(above)} °C above what is listed or expected, more than thermometer and reader leave open ({Figure.Degrees(error)} °C), and no impurity does that: it is another compound, another form of it, or the thermometer or the rate of heating is wrong."
            : null;
    }

    /// <summary>Works it out.</summary>
    /// <param name="pureCelsius">Clear points of the pure substance. Units: °C.</param>
    /// <param name="read">The range as read.</param>
    /// <param name="corrected">The same after the thermometer's correction.</param>
    /// <param name="errorCelsius">How far thermometer and reader may be out, one standard deviation. Units: °C. Bounds: 0 up.</param>
    /// <param name="enthalpy">The enthalpy of fusion.</param>
    public static PurityEstimate Of(
        AmountSpan pureCelsius, MeltingRange read, MeltingRange corrected, double errorCelsius, FusionEnthalpy enthalpy)
    {
        ArgumentNullException.ThrowIfNull(enthalpy);
        var clear = corrected.ClearPointCelsius;
        var plain = new AmountSpan(pureCelsius.Low - clear, pureCelsius.High - clear);
        var depression = new AmountSpan(
            Math.Max(0, plain.Low - (Deviations * errorCelsius)), Math.Max(0, plain.High + (Deviations * errorCelsius)));

        // More impurity goes with a larger enthalpy, a higher melting point of the pure substance and a lower one of the sample.
        // An error as wide as a foolish range could reach below absolute zero.
        AmountSpan Impure(Func<double, double, double, double> law) => new(
            1 - law(enthalpy.JoulesPerMole.Low, pureCelsius.Low, pureCelsius.Low - depression.Low),
            1 - law(enthalpy.JoulesPerMole.High, pureCelsius.High, Math.Max(MeltingRange.LowestCelsius, pureCelsius.High - depression.High)));

        var (whole, linear) = (Impure(IdealLiquidus.MoleFraction), Impure(IdealLiquidus.LinearMoleFraction));
        var isBeyond = whole.High > MostImpurity;
        var impurity = Capped(whole);
        return new PurityEstimate
        {
            PureCelsius = pureCelsius,
            ReadCelsius = new AmountSpan(read.OnsetCelsius, read.ClearPointCelsius),
            CorrectedCelsius = new AmountSpan(corrected.OnsetCelsius, clear),
            ErrorCelsius = errorCelsius,
            DepressionCelsius = depression,
            KilojoulesPerMole = new AmountSpan(enthalpy.JoulesPerMole.Low / 1000, enthalpy.JoulesPerMole.High / 1000),
            Basis = enthalpy.Basis,
            SourceKeys = enthalpy.SourceKeys,
            Impurity = impurity,
            ImpurityByLinearLaw = Capped(linear),
            IsBeyondLaw = isBeyond,
            Sentence = Words(depression, impurity, isBeyond, enthalpy.Basis),
        };
    }

    private static AmountSpan Capped(AmountSpan impurity) =>
        new(Math.Min(impurity.Low, MostImpurity), Math.Min(impurity.High, MostImpurity));

    private static string Words(AmountSpan depression, AmountSpan impurity, bool isBeyond, EnthalpyBasis basis)
    {
        var how = basis == EnthalpyBasis.Bounded
            ? $" This is a bound: no enthalpy of fusion of it is known, so entropies of {Figure.Span(EnthalpyOfFusion.UsualEntropy.Low, EnthalpyOfFusion.UsualEntropy.High, 0)} J/(mol K) stand in, where 95 of 100 printed for other substances lie (Walden's rule: {Figure.Text(WaldenEntropy, 1)})."
            : "";
        var least = depression.Low > 0
            ? $"The clear point lies {Figure.Span(depression.Low, depression.High, 1)} °C too low"
            : $"The clear point lies at most {Figure.Degrees(depression.High)} °C too low, and that is within what reading and listing leave open";
        var much = isBeyond
            ? $": {(impurity.Low > 0 ? $"from {Percent(impurity.Low)} to more than 50" : "from none to more than 50")} of every hundred molecules may be something else; beyond a half the law tells no more."
            : impurity.Low > 0
                ? $": {Figure.Span(100 * impurity.Low, 100 * impurity.High, 1)} of every hundred molecules are something else, if nothing forms mixed crystals with it."
                : $": at most {Figure.Text(100 * impurity.High, 1)} of every hundred molecules are something else, if nothing forms mixed crystals with it.";
        return least + much + how;
    }

    private static string MolePercent(AmountSpan share) => $"{Figure.Span(100 * share.Low, 100 * share.High, 1)} mol %";

    private static string Percent(double share) => Figure.Text(100 * share, 1);
}
