using System.Runtime.CompilerServices;
using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Curation;
using Derivid.Core.Structures;
using Derivid.Core.Teaching;

namespace Derivid.Api.Curation;

/// <summary>Help for whoever adds to the table.</summary>
public static class CuratorHelpEndpoints
{
    private const int MostPairs = 1000;

    // Worked out once a version: it takes a look at every pair of parents.
    private static readonly ConditionalWeakTable<ServedTable, CoverageItem> Known = [];

    /// <summary>Maps them.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapCuratorHelp(this RouteGroupBuilder api)
    {
        api.MapPost("/structures", ComputeAsync)
            .RequireRole(Role.Instructor)
            .WithTags("Curation")
            .WithName("describeStructure")
            .WithSummary("Work out what follows from a structure")
            .WithDescription(
                "Formula, molar mass, carbonyl environment, expected spot tests, derivatives with their formulas and molar "
                + "masses, and parents of the table that may be the same. Stores nothing.")
            .WithBody<StructureRequest>()
            .Produces<StructureItem>();
        api.MapGet("/coverage", CoverageAsync)
            .RequireRole(Role.Instructor)
            .WithTags("Curation")
            .WithName("getCoverage")
            .WithSummary("List what the table still lacks")
            .WithDescription(
                "Parents without a second derivative, values no independent source confirms, and pairs of parents that no "
                + "test and no derivative of the table tells apart.")
            .WithQuery<VersionQuery>()
            .Produces<CoverageItem>()
            .Produces(StatusCodes.Status304NotModified)
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.StorageUnavailable);
    }

    private static async Task<IResult> ComputeAsync(HttpContext context, TableSnapshots tables)
    {
        if (!(await JsonBody.ReadAsync<StructureRequest>(context.Request)).Succeeded(out var request, out var problem)
            || !(await tables.FindAsync(null, context.RequestAborted)).Succeeded(out var served, out problem))
        {
            return problem;
        }

        var reading = SmilesReader.Read(request.Smiles);
        if (!reading.IsRead)
        {
            return FieldErrors.One("/smiles", $"{Text.Quoted(request.Smiles)}: {reading.Error.Sentence}");
        }

        return Reply.Json(Item(ComputedParent.Of(reading.Molecule, request.Name, served.Table), served));
    }

    private static Task<IResult> CoverageAsync(HttpContext context, TableSnapshots tables) =>
        TableReply.OneAsync(context, tables, table => (Known.GetValue(table, Covered), ""));

    private static CoverageItem Covered(ServedTable served)
    {
        var coverage = Coverage.Of(served.Table);
        return new CoverageItem(
            served.Table.Version,
            coverage.WithoutSecondDerivative,
            coverage.NeverCrossChecked,
            coverage.InseparablePairs.Count,
            [.. coverage.InseparablePairs.Take(MostPairs)]);
    }

    private static StructureItem Item(ComputedParent sketch, ServedTable served) => new(
        served.Table.Version,
        sketch.Formula.ToString(),
        sketch.Formula.MolarMass,
        sketch.Kind,
        sketch.Environment.AldehydeGroups,
        sketch.Environment.KetoneGroups,
        StructureFeatureNames.Of(sketch.Environment.Features),
        [.. sketch.Outcomes.Select(outcome => new ExpectedTestItem(
            outcome.Test.Key,
            outcome.PositiveRate,
            outcome.Response?.AppliesTo,
            outcome.Response?.SourceKey,
            outcome.Response?.IsAssumed ?? true))],
        [.. sketch.Derivatives.Select(derivative => new ComputedDerivativeItem(
            derivative.Kind.Key,
            derivative.CarbonylsCondensed,
            derivative.Formula.ToString(),
            derivative.Formula.MolarMass))],
        [.. sketch.Duplicates.Select(duplicate => new DuplicateItem(
            duplicate.Parent.Key, duplicate.Parent.Name, duplicate.Reason))]);
}
