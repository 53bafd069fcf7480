using System.Globalization;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Compounds;
using Derivid.Core.Estimates;
using Derivid.Core.Observations;
using Derivid.Core.Teaching;
using Derivid.Core.Teaching.HandOuts;
using Derivid.Store.Teaching;

namespace Derivid.Api.Teaching;

/// <summary>What to fill into the vials of a hand-out.</summary>
public static class FillingEndpoints
{
    private static readonly string[] Columns = ["parent", "name", "state", "bench", "code", "millilitres", "milligrams", "hazards"];

    /// <summary>Maps it.</summary>
    /// <param name="courses">The group of courses.</param>
    public static void MapFilling(this RouteGroupBuilder courses) =>
        courses.MapGet("/{id}/filling-list", GetAsync)
            .RequireRole(Role.Grader)
            .WithName("getFillingList")
            .WithSummary("Get what to fill into the vials")
            .WithDescription(
                "Of the hand-out in force, compound by compound: how many vials, for which benches, with which codes, and how much for all of "
                + "them where the content of one is told. As secret as the answers. With Accept: text/csv a row for each vial.")
            .WithQuery<FillingQuery>()
            .Produces<FillingList>(StatusCodes.Status200OK, MediaTypes.Json, MediaTypes.Csv)
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.CourseStateForbids);

    /// <param name="id">The course.</param>
    /// <param name="context">The request.</param>
    /// <param name="access">Who sees what.</param>
    /// <param name="courses">The rosters.</param>
    /// <param name="handOuts">The unknowns handed out.</param>
    /// <param name="tables">The versions of the table.</param>
    private static async Task<IResult> GetAsync(
        string id, HttpContext context, CourseAccess access, Store.Teaching.Courses courses, HandOuts handOuts, TableSnapshots tables)
    {
        if (!(await access.FindAsync(context, id)).Succeeded(out var view, out var problem)
            || !RequestQuery.Read<FillingQuery>(context.Request).Succeeded(out var query, out problem))
        {
            return problem;
        }

        if (await handOuts.FindAsync(id, view.Course.HandOutNumber, context.RequestAborted) is not { } handOut)
        {
            return new Problem(ProblemTypes.CourseStateForbids, "Nothing is handed out in this course yet.");
        }

        // By the version it was handed out on: the course may have moved on to one that lacks a compound.
        if (!(await tables.FindAsync(handOut.TableVersion, context.RequestAborted)).Succeeded(out var table, out problem))
        {
            return problem;
        }

        var seats = (await courses.RosterAsync(id, context.RequestAborted)).ToDictionary(student => student.StudentKey, StringComparer.Ordinal);

        // One for a group: at the place of the first of them who is still here.
        var vials = (await handOuts.AssignmentsAsync(id, handOut.Number, null, context.RequestAborted))
            .GroupBy(vial => vial.Code, StringComparer.Ordinal)
            .Select(shared => shared.FirstOrDefault(vial => seats.ContainsKey(vial.StudentKey)) ?? shared.First());
        var list = new FillingList(handOut.Number, [
            .. vials.GroupBy(vial => vial.ParentKey, StringComparer.Ordinal)
                .Select(group => Item(table, group.Key, [.. group], seats, query))
                .OrderBy(item => item.Name, StringComparer.OrdinalIgnoreCase).ThenBy(item => item.Parent, StringComparer.Ordinal),
        ]);
        context.Response.Headers.CacheControl = "no-store";
        return CsvText.IsWantedBy(context.Request) ? CsvText.Answer(context, Csv(list, query), "filling-list.csv") : Reply.Json(list);
    }

    private static FillingItem Item(
        ServedTable table, string parentKey, List<Assignment> vials, Dictionary<string, CourseStudent> seats, FillingQuery query)
    {
        var parent = table.ParentByKey[parentKey];
        var state = StateOf(table, parentKey);
        return new FillingItem(
            parent.Key,
            parent.Name,
            parent.Hazards,
            state,
            vials.Count,
            state == PhysicalState.Solid ? null : query.VialMillilitres * vials.Count,
            state == PhysicalState.Liquid ? null : query.VialMilligrams * vials.Count,
            [
                .. vials.Select(vial => (vial.Code, vial.Number, Seat: seats.GetValueOrDefault(vial.StudentKey), vial.StudentKey))
                    .GroupBy(vial => vial.Seat?.Bench, StringComparer.Ordinal)
                    .OrderBy(bench => bench.Key, BenchOrder.Instance)
                    .Select(bench => new FillingBench(bench.Key, [
                        .. bench.OrderBy(vial => vial.Seat?.Place).ThenBy(vial => vial.StudentKey, StringComparer.Ordinal).ThenBy(vial => vial.Number)
                            .Select(vial => vial.Code),
                    ])),
            ]);
    }

    // The middle of what is listed: sources differ by degrees, and few compounds melt near the room's temperature.
    private static PhysicalState? StateOf(ServedTable table, string parentKey)
    {
        var listed = table.Table.Constants
            .Where(constant => constant.ParentKey == parentKey && constant.Property == ParentProperty.MeltingPoint)
            .Select(constant => (constant.Low + constant.High) / 2).Order().ToList();
        return listed.Count == 0 ? null
            : (listed[(listed.Count - 1) / 2] + listed[listed.Count / 2]) / 2 > TableEstimates.RoomCelsius ? PhysicalState.Solid
            : PhysicalState.Liquid;
    }

    private static string Csv(FillingList list, FillingQuery query) => CsvText.Write(
        Columns,
        list.Items.SelectMany(item => item.Benches.SelectMany(bench => bench.Codes.Select(code => (IReadOnlyList<string?>)[
            item.Parent,
            item.Name,
            item.State is { } state ? WireJson.Word(state) : null,
            bench.Bench,
            code,
            item.Millilitres is null ? null : query.VialMillilitres?.ToString(CultureInfo.InvariantCulture),
            item.Milligrams is null ? null : query.VialMilligrams?.ToString(CultureInfo.InvariantCulture),
            item.Hazards,
        ]))));
}
