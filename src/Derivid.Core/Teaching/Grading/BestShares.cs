namespace Derivid.Core.Teaching.Grading;

/// <summary>Averages what the derivatives of a report earned: the best of those expected, missing ones counting nothing.</summary>
internal static class BestShares
{
    public static GradeLine Line(
        PointsCriterion criterion,
        Rubric rubric,
        IReadOnlyList<ShareOfKind> shares,
        string rule,
        bool tellsIdentity,
        string nothing = "no melting range is reported")
    {
        var expected = rubric.ExpectedDerivatives;
        var counted = shares.OrderByDescending(share => share.Share).Take(expected).ToList();
        var share = counted.Sum(item => item.Share) / expected;
        var found = counted.Count == 0 ? nothing : string.Join("; ", counted.Select(item => item.Words));
        var average = expected == 1
            ? ""
            : $" Averaged over the {expected} derivatives expected: {Criterion.Text(share)}.";
        return criterion.Line(
            share, $"{Capital(found)}; {rule}.{average}", rubric, tellsIdentity && counted.Count > 0);
    }

    private static string Capital(string words) => char.ToUpperInvariant(words[0]) + words[1..];
}

/// <summary>What one derivative earned and why.</summary>
/// <param name="Share">Bounds: 0 to 1.</param>
/// <param name="Words">What was found, as part of a sentence.</param>
internal sealed record ShareOfKind(double Share, string Words);
