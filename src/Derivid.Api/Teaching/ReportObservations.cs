using Derivid.Api.Http;
using Derivid.Api.Identifications;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>Observations of reports, made ready for the engine on some version of the table.</summary>
public static class ReportObservations
{
    /// <summary>The identification request behind a report: its observation against the shelf it was taken from.</summary>
    /// <param name="body">What the report says.</param>
    /// <param name="course">The course.</param>
    /// <param name="shelfKeys">The shelf list of the hand-out.</param>
    public static IdentificationRequest RequestOf(ReportBody body, Course course, IReadOnlyList<string> shelfKeys)
    {
        ArgumentNullException.ThrowIfNull(body);
        ArgumentNullException.ThrowIfNull(course);
        return body.Observation with
        {
            Prior = new PriorDescribed { ShelfList = shelfKeys },
            TableVersion = course.TableVersion,
            WindowCelsius = course.WindowCelsius,
        };
    }

    /// <summary>The observation of a report.</summary>
    /// <param name="body">What the report says.</param>
    /// <param name="table">The version of the table.</param>
    public static Outcome<Core.Observations.Observation> Of(ReportBody body, ServedTable table)
    {
        ArgumentNullException.ThrowIfNull(body);
        var errors = new FieldErrors();
        var canonical = new CanonicalRequest(table, "/observation", errors).Of(body.Observation);
        if (errors.ToProblem() is { } unknown)
        {
            return unknown;
        }

        var observation = Observing.Of(canonical, table, "/observation", errors);
        return errors.ToProblem() is { } impossible ? impossible : observation;
    }
}
