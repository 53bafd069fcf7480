using Derivid.Contracts;

namespace Derivid.Page.Teaching;

/// <summary>Rubrics as they are told of.</summary>
public static class RubricWords
{
    /// <summary>What the rubric of a grading is called.</summary>
    /// <param name="grading">The grading.</param>
    public static string NameOf(GradingStatus grading)
    {
        ArgumentNullException.ThrowIfNull(grading);
        return grading.Rubric.GetProperty("name").GetString() ?? "";
    }
}
