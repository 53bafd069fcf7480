using Derivid.Core.SpotTests;

namespace Derivid.Api.Table;

/// <summary>The question a family of spot tests asks.</summary>
/// <param name="Key">Stable key.</param>
/// <param name="Text">The question in words.</param>
/// <param name="ContraryRate">Probability that a sample as a whole answers against its structure.</param>
/// <param name="IsAssumed">Whether the rate is assumed, for want of published ones.</param>
/// <param name="Source">Key of the source.</param>
public sealed record QuestionItem(string Key, string Text, double ContraryRate, bool IsAssumed, string Source)
{
    /// <summary>Translates.</summary>
    /// <param name="question">The row.</param>
    public static QuestionItem Of(SpotTestQuestion question)
    {
        ArgumentNullException.ThrowIfNull(question);
        return new QuestionItem(
            question.Key, question.Text, question.ContraryRate, question.IsAssumed, question.SourceKey);
    }
}
