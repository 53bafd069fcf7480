using Derivid.Core.Observations;

namespace Derivid.Validation.Literature;

/// <summary>One source's values of one parent, to be found again in a table that holds no record of its family.</summary>
/// <param name="ParentKey">The right answer.</param>
/// <param name="Family">The family of the source that is left out.</param>
/// <param name="Readings">Its values, one a kind.</param>
public sealed record CrossSourceCase(string ParentKey, string Family, IReadOnlyList<DerivativeReading> Readings)
{
    /// <summary>Kinds and values in words.</summary>
    public string Text => string.Join(
        "; ",
        Readings.Select(reading => FormattableString.Invariant(
            $"{reading.KindKey} {reading.Range!.Value.OnsetCelsius:0.#}-{reading.Range!.Value.ClearPointCelsius:0.#}")));
}
