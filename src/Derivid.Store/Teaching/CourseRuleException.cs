namespace Derivid.Store.Teaching;

/// <summary>A write ran up against a rule of the course; nothing was changed.</summary>
/// <param name="rule">The rule.</param>
/// <param name="sentence">What is the case, and what to do.</param>
public sealed class CourseRuleException(CourseRule rule, string sentence) : Exception(sentence)
{
    /// <summary>The rule.</summary>
    public CourseRule Rule { get; } = rule;
}
