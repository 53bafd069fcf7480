namespace Derivid.Client.Table;

/// <summary>A released version of the reference table.</summary>
/// <param name="Number">Its number, from 1.</param>
/// <param name="IsCurrent">Whether it is the one used when nothing else is asked for.</param>
/// <param name="ReleasedAt">When it was released (RFC 3339, UTC).</param>
/// <param name="Note">Why it was released.</param>
/// <param name="ContentSha256">SHA-256 over its rows, in hexadecimal.</param>
/// <param name="Sources">How many sources it holds.</param>
/// <param name="Parents">How many parents.</param>
/// <param name="DerivativeKinds">How many kinds of derivative.</param>
/// <param name="Derivatives">How many derivative records.</param>
/// <param name="SpotTests">How many spot tests.</param>
public sealed record TableVersionItem(
    int Number,
    bool IsCurrent,
    DateTime ReleasedAt,
    string Note,
    string ContentSha256,
    int Sources,
    int Parents,
    int DerivativeKinds,
    int Derivatives,
    int SpotTests);
