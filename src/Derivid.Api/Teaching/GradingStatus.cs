using System.Text.Json;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>A grading and how far it is.</summary>
/// <param name="Id">Its id.</param>
/// <param name="State">How far it is.</param>
/// <param name="Done">Reports done.</param>
/// <param name="Total">Reports in all.</param>
/// <param name="TableVersion">Version of the reference table it grades by.</param>
/// <param name="ModelVersion">Version of the ranking model it grades by.</param>
/// <param name="Rubric">The rubric it grades by, every default written out.</param>
/// <param name="DueAt">When the reports were due (RFC 3339, UTC). Missing: none is late.</param>
/// <param name="CreatedAt">When it was asked for (RFC 3339, UTC).</param>
/// <param name="FinishedAt">When it ended (RFC 3339, UTC). Missing: it is under way.</param>
public sealed record GradingStatus(
    string Id,
    GradingState State,
    int Done,
    int Total,
    int TableVersion,
    string ModelVersion,
    JsonElement Rubric,
    DateTime? DueAt,
    DateTime CreatedAt,
    DateTime? FinishedAt)
{
    /// <summary>Translates.</summary>
    /// <param name="grading">The grading.</param>
    /// <param name="done">Reports done.</param>
    public static GradingStatus Of(Grading grading, int done)
    {
        ArgumentNullException.ThrowIfNull(grading);
        return new GradingStatus(
            grading.Id,
            grading.FinishedAtUtc is null ? GradingState.Running : GradingState.Finished,
            done,
            grading.Total,
            grading.TableVersion,
            grading.ModelVersion,
            JsonElement.Parse(grading.RubricJson),
            grading.DueAtUtc,
            grading.CreatedAtUtc,
            grading.FinishedAtUtc);
    }
}
