using Derivid.Core.Ranking;

namespace Derivid.Core.Practice;

/// <summary>Whether another recrystallisation is worth its time, as the ranking of an observation has it.</summary>
/// <param name="IsWorthIt">Whether it tells more a minute than anything else that could be done.</param>
/// <param name="Recrystallisation">The step. Missing: null, the ranking proposes none.</param>
/// <param name="PerMinute">What it tells. Units: nats per min, a class of hazard counted as minutes. Missing: null, the same.</param>
/// <param name="BestOther">The best of the other steps. Missing: null, there is none.</param>
/// <param name="OtherPerMinute">What that tells. Units: the same. Missing: null, there is none.</param>
/// <param name="Sentence">The same in words.</param>
public sealed record RecrystallisationWorth(
    bool IsWorthIt, NextStep? Recrystallisation, double? PerMinute, NextStep? BestOther, double? OtherPerMinute, string Sentence)
{
    /// <summary>Compares it.</summary>
    /// <param name="identification">The ranking.</param>
    /// <param name="hazardMinutes">What a class of hazard counts for. Units: min.</param>
    /// <param name="kindKey">The derivative that might be recrystallised. Missing: null, whichever is worth most.</param>
    public static RecrystallisationWorth Of(Identification identification, double hazardMinutes, string? kindKey)
    {
        ArgumentNullException.ThrowIfNull(identification);
        var again = identification.NextSteps.FirstOrDefault(step =>
            step.Kind == NextStepKind.Recrystallisation && (kindKey is null || step.Key == kindKey));
        var other = identification.NextSteps.FirstOrDefault(step => step.Kind != NextStepKind.Recrystallisation);
        var (rate, otherRate) = (again?.Rate(hazardMinutes), other?.Rate(hazardMinutes));
        var isWorthIt = rate is { } per && (otherRate is not { } against || per >= against);
        return new RecrystallisationWorth(isWorthIt, again, rate, other, otherRate, Words(isWorthIt, again, rate, other, otherRate, identification));
    }

    private static string Words(
        bool isWorthIt, NextStep? again, double? rate, NextStep? other, double? otherRate, Identification identification)
    {
        var instead = other is null ? "nothing else would tell anything" : $"the best of the rest, {other.Name}, tells {InWords(otherRate!.Value)}";
        return again is not null
            ? isWorthIt
                ? $"Yes: recrystallised and melted again it would tell {InWords(rate!.Value)}; {instead}."
                : $"No: recrystallised and melted again it would tell only {InWords(rate!.Value)}; {instead}."
            : identification.Readings.Any(reading => reading.Kind == EvidenceKind.DerivativeMeltingRange)
                ? $"No: its crystals are not doubted enough, or melting them again would tell next to nothing; {instead}."
                : $"No: the observation holds no derivative that was melted; {instead}.";
    }

    private static string InWords(double natsPerMinute) => $"{Figure.Text(natsPerMinute, 4)} nats a minute";
}
