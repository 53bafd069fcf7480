namespace Derivid.Client.Table;

/// <summary>The question a family of spot tests asks.</summary>
/// <param name="Key">Stable key.</param>
/// <param name="Text">The question in words.</param>
/// <param name="ContraryRate">Probability that a sample as a whole answers against its structure.</param>
/// <param name="IsAssumed">Whether the rate is assumed, for want of published ones.</param>
/// <param name="Source">Key of the source.</param>
public sealed record QuestionItem(string Key, string Text, double ContraryRate, bool IsAssumed, string Source);
