namespace Derivid.Core.SpotTests;

/// <summary>The question that a family of spot tests asks, such as "does it behave as an aldehyde?".</summary>
/// <remarks>
/// Tests that ask one question are not independent given the compound: an aldehyde impurity in a ketone turns all of
/// them. They share one latent answer, which is contrary to the structure with <paramref name="ContraryRate"/>.
/// </remarks>
/// <param name="Key">Stable key; unique in a table.</param>
/// <param name="Text">The question in words.</param>
/// <param name="ContraryRate">Probability that the sample as a whole answers against its structure.</param>
/// <param name="IsAssumed">Whether the rate is assumed, for want of published ones.</param>
/// <param name="SourceKey">Source of the rate.</param>
public sealed record SpotTestQuestion(
    string Key,
    string Text,
    double ContraryRate,
    bool IsAssumed,
    string SourceKey);
