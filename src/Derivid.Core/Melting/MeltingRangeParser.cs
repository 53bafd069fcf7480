namespace Derivid.Core.Melting;

/// <summary>Makes a range of the tokens: labels, a figure, its unit, a dash, a figure, its unit, qualifiers.</summary>
internal sealed class MeltingRangeParser(List<MeltingRangeToken> tokens, bool boils)
{
    private readonly List<string> _notes = [];
    private int _at;
    private bool _decomposes;
    private MeltingRangeWord? _unit;

    /// <summary>What was made of the text beyond its plain words.</summary>
    public IReadOnlyList<string> Notes => _notes;

    /// <summary>Why there is no range.</summary>
    public MeltingRangeFault Fault { get; private set; }

    /// <summary>The same in a sentence.</summary>
    public string Sentence { get; private set; } = "";

    private MeltingRangeToken Next => tokens[_at];

    /// <summary>Reads the range.</summary>
    /// <returns>The range in °C. Missing: null when it was refused; see <see cref="Fault"/>.</returns>
    public MeltingRange? Parse()
    {
        if (!ReadLabels() || ReadEnd() is not { } low)
        {
            return null;
        }

        MeltingRangeEnd? high = null;
        if (Next.Kind == MeltingRangeTokenKind.Dash || Next.Meaning == MeltingRangeWord.To)
        {
            var separator = Next;
            _at++;
            SkipTypesetDash(low);
            if (ReadEnd() is not { } end)
            {
                return null;
            }

            high = end;
            if (low.IsNegative && !end.IsSigned && separator.Kind == MeltingRangeTokenKind.Dash
                && separator.SpaceBefore && !end.SpaceBefore)
            {
                // "-12 -10": the second dash may join the figures or be a sign.
                return Refuse(
                    MeltingRangeFault.Ambiguous,
                    $"“-{low.Written} -{end.Written}” can be read in two ways; write “-{low.Written} to -{end.Written}” or “-{low.Written} to {end.Written}”.");
            }
        }

        return Next.Kind == MeltingRangeTokenKind.End ? Range(low, high ?? low) : RefuseRest();
    }

    // "125--127", as typesetters write an en dash; after a negative end the second dash is a sign.
    private void SkipTypesetDash(MeltingRangeEnd low)
    {
        while (!low.IsNegative && Next is { Kind: MeltingRangeTokenKind.Dash, SpaceBefore: false })
        {
            _at++;
        }
    }

    private bool ReadLabels()
    {
        for (; Next.Kind == MeltingRangeTokenKind.Word; _at++)
        {
            var accepted = Next.Meaning switch
            {
                MeltingRangeWord.MeltingLabel when !boils => true,
                MeltingRangeWord.BoilingLabel when boils => true,
                MeltingRangeWord.MeltingLabel => Refuse(MeltingRangeFault.NotThisReading, $"{Quoted} marks a melting point; a boiling range is asked for here.") is not null,
                MeltingRangeWord.BoilingLabel => Refuse(MeltingRangeFault.NotThisReading, $"{Quoted} marks a boiling point; a melting range is asked for here.") is not null,
                // "c. 126" is circa; behind a figure the same letter is the unit.
                MeltingRangeWord.Celsius when Next.Text is "c." or "c" => TakeQualifier(MeltingRangeWord.About),
                MeltingRangeWord.Celsius or MeltingRangeWord.Kelvin or MeltingRangeWord.Fahrenheit or MeltingRangeWord.Degree =>
                    Refuse(MeltingRangeFault.Incomplete, $"The unit {Quoted} stands before any figure.") is not null,
                MeltingRangeWord.To => Refuse(MeltingRangeFault.Incomplete, "The lower end is missing.") is not null,
                _ => TakeQualifier(Next.Meaning),
            };
            if (!accepted)
            {
                return false;
            }
        }

        return true;
    }

    private MeltingRangeEnd? ReadEnd()
    {
        var sign = Next.Kind is MeltingRangeTokenKind.Dash or MeltingRangeTokenKind.Plus ? Next : (MeltingRangeToken?)null;
        if (sign is not null)
        {
            _at++;
        }

        // "between 125 and ca. 127": a qualifier may stand before the upper figure too.
        while (sign is null && Next.Meaning == MeltingRangeWord.About)
        {
            TakeQualifier(Next.Meaning);
            _at++;
        }

        if (Next.Kind != MeltingRangeTokenKind.Number)
        {
            RefuseMissingNumber();
            return null;
        }

        var end = new MeltingRangeEnd(Next, sign);
        _at++;
        return ReadUnit() && ReadQualifiers() ? end : null;
    }

    private bool ReadUnit()
    {
        while (Next.Meaning is MeltingRangeWord.Degree)
        {
            _at++;
        }

        if (Next.Meaning is not (MeltingRangeWord.Celsius or MeltingRangeWord.Kelvin or MeltingRangeWord.Fahrenheit))
        {
            return true;
        }

        if (_unit is { } earlier && earlier != Next.Meaning)
        {
            return Refuse(MeltingRangeFault.UnknownUnit, "The two ends are in different units; give both in the same one.") is not null;
        }

        _unit = Next.Meaning;
        _at++;
        return true;
    }

    private bool ReadQualifiers()
    {
        while (Next.Kind == MeltingRangeTokenKind.Word && Next.Meaning is not MeltingRangeWord.To)
        {
            if (!TakeQualifier(Next.Meaning))
            {
                return false;
            }

            _at++;
        }

        return true;
    }

    private bool TakeQualifier(MeltingRangeWord meaning)
    {
        switch (meaning)
        {
            case MeltingRangeWord.Filler or MeltingRangeWord.Sharp:
                return true;
            case MeltingRangeWord.Decomposes:
                _decomposes = true;
                return true;
            case MeltingRangeWord.About:
                _notes.Add($"{Quoted} was read; the reading counts as if it had been exact.");
                return true;
            case MeltingRangeWord.Sublimes:
                _notes.Add($"{Quoted} was read; sublimation carries no weight.");
                return true;
            case MeltingRangeWord.Corrected or MeltingRangeWord.Uncorrected:
                _notes.Add($"{Quoted} was read; the figures are taken as written, and only a stated thermometer corrects them.");
                return true;
            case MeltingRangeWord.Literature:
                return Refuse(MeltingRangeFault.NotThisReading, $"{Quoted} marks a literature value; give the range read on the bench.") is not null;
            case MeltingRangeWord.Comparison:
                return Refuse(MeltingRangeFault.OpenEnded, $"{Quoted} says that no melting was seen, which is no range; leave it out.") is not null;
            default:
                return RefuseWord() is not null;
        }
    }

    private MeltingRange? Range(MeltingRangeEnd low, MeltingRangeEnd high)
    {
        var (lowest, highest) = (low.Value, high.Value);
        if (highest < lowest && high.FilledUpFrom(low) is { } filled)
        {
            highest = filled;
            _notes.Add(FormattableString.Invariant($"“{low.Written}-{high.Written}” was read as {lowest}-{highest}."));
        }

        if (highest < lowest)
        {
            return Refuse(
                MeltingRangeFault.Reversed,
                FormattableString.Invariant($"The range is reversed: {highest} lies below {lowest}; the lower end comes first."));
        }

        var (onset, clearPoint) = (MeltingRangeEnd.ToCelsius(lowest, _unit), MeltingRangeEnd.ToCelsius(highest, _unit));
        if (onset < MeltingRangeEnd.AbsoluteZeroCelsius)
        {
            return Refuse(
                MeltingRangeFault.OutOfBounds,
                FormattableString.Invariant($"{lowest} {MeltingRangeEnd.UnitName(_unit)} lies below absolute zero."));
        }

        var outside = onset < (decimal)MeltingRange.LowestCelsius ? onset : clearPoint;
        return outside is >= (decimal)MeltingRange.LowestCelsius and <= (decimal)MeltingRange.HighestCelsius
            ? new MeltingRange(MeltingRangeEnd.ToDouble(onset), MeltingRangeEnd.ToDouble(clearPoint), _decomposes)
            : Refuse(
                MeltingRangeFault.OutOfBounds,
                FormattableString.Invariant($"{outside:0.######} °C is out of bounds; allowed is {MeltingRange.LowestCelsius} to {MeltingRange.HighestCelsius} °C."));
    }

    private MeltingRange? RefuseMissingNumber() =>
        Next.Kind == MeltingRangeTokenKind.Word && Next.Meaning == MeltingRangeWord.Unknown ? RefuseWord()
        : _at > 0 && tokens.Take(_at).Any(token => token.Kind == MeltingRangeTokenKind.Number)
            ? Refuse(MeltingRangeFault.Incomplete, "There is no figure behind the dash.")
            : Refuse(MeltingRangeFault.NoNumber, "There is no figure in it.");

    private MeltingRange? RefuseRest()
    {
        var numbers = tokens.Count(token => token.Kind == MeltingRangeTokenKind.Number);
        return numbers > 2
            ? Refuse(MeltingRangeFault.TooManyNumbers, FormattableString.Invariant($"There are {numbers} figures; a range has one or two."))
            : Next.Kind == MeltingRangeTokenKind.Plus
            ? Refuse(MeltingRangeFault.OpenEnded, "“+” behind a figure leaves the range open; leave the range out if no melting was seen.")
            : Next.Kind == MeltingRangeTokenKind.Number
                ? Refuse(MeltingRangeFault.Incomplete, "There are two figures with no dash between them.")
                : Refuse(MeltingRangeFault.Incomplete, "There is no figure behind the last dash.");
    }

    private MeltingRange? RefuseWord() =>
        _at > 0 && tokens[_at - 1].Kind == MeltingRangeTokenKind.Number || Next.Text.Length == 1
            ? Refuse(MeltingRangeFault.UnknownUnit, $"{Quoted} is not a unit known here.")
            : Refuse(MeltingRangeFault.UnknownWord, $"The word {Quoted} is not one of the usual qualifiers (dec., ca., sharp, subl., uncorr.).");

    private MeltingRange? Refuse(MeltingRangeFault fault, string sentence)
    {
        (Fault, Sentence) = (fault, sentence);
        return null;
    }

    private string Quoted => MeltingRangeScanner.Quote(Next.Text);
}
