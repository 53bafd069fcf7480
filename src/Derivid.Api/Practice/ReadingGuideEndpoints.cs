using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Identifications;
using Derivid.Api.Table;
using Derivid.Api.Teaching;
using Derivid.Contracts;
using Derivid.Core.Observations;
using Derivid.Core.Practice;
using Derivid.Core.Structures;

namespace Derivid.Api.Practice;

/// <summary>How a melting range is read, and what it tells of the purity.</summary>
public static class ReadingGuideEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="api">The group of the interface.</param>
    /// <remarks>Open like preparations; only what weighs an observation is kept from those who sit an examination, and takes turns.</remarks>
    public static void MapReadingGuides(this RouteGroupBuilder api) =>
        api.MapPost("/reading-guides", GuideAsync)
            .WithTags("Practice")
            .WithName("guideReading")
            .WithSummary("Guide the reading of a melting range")
            .WithDescription(
                "How the tube is heated, step by step with temperatures, rates and minutes, for a derivative, a compound, a standard or an "
                + "unknown; what onset and clear point are, and which is compared. Of a range that was read: how much impurity its depression "
                + "means, an interval by the law of Schröder and van Laar, or a bound where no enthalpy of fusion is known. Of an observation: "
                + "whether another recrystallisation is worth its time. Stores nothing.")
            .WithBody<ReadingGuideRequest>()
            .Produces<ReadingGuide>()
            .ProducesProblems(
                ProblemTypes.ExaminationOpen,
                ProblemTypes.ContradictoryReadings,
                ProblemTypes.MeltingRangeReversed,
                ProblemTypes.ThermometerImplausible);

    private static async Task<IResult> GuideAsync(
        HttpContext context, TableSnapshots tables, RegisteredThermometers thermometers, SenderTurns turns, Examinations examinations)
    {
        if (!(await JsonBody.ReadAsync<ReadingGuideRequest>(context.Request)).Succeeded(out var request, out var problem)
            || (request.Observation is not null && (problem = await examinations.OfAsync(context)) is not null)
            || !(await tables.FindAsync(request.TableVersion, context.RequestAborted)).Succeeded(out var table, out problem)
            || !(await KnownAsync(new IdentificationRequest { Thermometer = request.Thermometer }, "")).Succeeded(out var own, out problem)
            || !(await KnownAsync(request.Observation ?? new IdentificationRequest(), "/observation")).Succeeded(out var observation, out problem))
        {
            return problem;
        }

        var errors = new FieldErrors();
        var order = OrderOf(request with { Thermometer = own.Thermometer }, table, errors);
        var weighed = request.Observation is null ? null : ObservationOf(observation, table, errors);
        if (errors.ToProblem() is { } faults)
        {
            return faults with { TableVersion = table.Table.Version };
        }

        if (weighed is not null)
        {
            using (await turns.TakeAsync(context))
            {
                order = order with
                {
                    Worth = RecrystallisationWorth.Of(table.Engine.Identify(weighed, maximumCandidates: 1), weighed.HazardMinutes, order.Kind?.Key),
                };
            }
        }

        return Reply.Json(ReadingGuide.Of(order, table.Snapshot));

        Task<Outcome<IdentificationRequest>> KnownAsync(IdentificationRequest of, string place) =>
            thermometers.IntoAsync(of, table, place, context.RequestAborted);
    }

    private static Observation ObservationOf(IdentificationRequest request, ServedTable table, FieldErrors errors)
    {
        if (request.TableVersion is { } version && version != table.Table.Version)
        {
            errors.Add(
                "/observation/tableVersion",
                FormattableString.Invariant($"{version}, and the guide is of version {table.Table.Version}; leave it out, or set tableVersion of the guide."));
        }

        return new CanonicalRequestReader(table, "/observation", errors).Read(request).Observation;
    }

    /// <summary>Finds what a request names; it means something only while no faults were noted.</summary>
    private static ReadingOrder OrderOf(ReadingGuideRequest request, ServedTable table, FieldErrors errors)
    {
        var kindKey = Key(request.Kind, table.Kinds, "/kind", errors);
        var parentKey = Key(request.Parent, table.Parents, "/parent", errors);
        var standardKey = Key(request.Standard, table.Standards, "/standard", errors);
        var reader = new CanonicalRequestReader(table, "", errors);
        AddContradictions(request, errors);
        var order = new ReadingOrder
        {
            Kind = table.Table.Kinds.FirstOrDefault(kind => kind.Key == kindKey),
            Parent = parentKey is null ? null : table.ParentByKey[parentKey],
            Standard = table.Table.Standards.FirstOrDefault(standard => standard.Key == standardKey),
            Expected = reader.Range(request.Expected, "/expected"),
            Read = reader.Range(request.Read, "/read"),
            Preparation = request.Preparation ?? Preparation.Unstated,
            Thermometer = reader.CorrectionOf(request.Thermometer),
            ReachCelsius = request.ReachCelsius,
            Sublimes = request.Sublimes == true,
            JoulesPerMole = request.EnthalpyOfFusionKilojoulesPerMole * 1000,
        };
        if (order is { Kind: { } of, Parent: { } parent }
            && SmilesReader.Read(parent.Smiles).Molecule is { } molecule
            && CarbonylEnvironment.Of(molecule) is { CarbonylGroups: > 0 } environment
            && !StructureClass.Parse(of.AppliesTo).Matches(environment.Features))
        {
            errors.Add("/kind", $"{of.Name}: {parent.Name} does not form it; allowed are compounds with: {of.AppliesTo.Replace("+", ", ", StringComparison.Ordinal)}.");
        }

        return order;
    }

    private static string? Key(string? name, NameIndex names, string place, FieldErrors errors)
    {
        var key = name is null ? null : names.Find(name);
        if (name is not null && key is null)
        {
            errors.Add(place, names.Unknown(name));
        }

        return key;
    }

    private static void AddContradictions(ReadingGuideRequest request, FieldErrors errors)
    {
        if (request.Standard is not null && (request.Kind ?? request.Parent) is not null)
        {
            errors.Add("/standard", "A standard is given beside a kind or a parent; one tube is read at a time, so leave one of them out.");
        }

        if (request is { Read: null, EnthalpyOfFusionKilojoulesPerMole: not null })
        {
            errors.Add("/enthalpyOfFusionKilojoulesPerMole", "An enthalpy of fusion without read; it serves only to tell the impurity of what was read, so send that too or leave it out.");
        }

        if (request is { Read: null, Preparation: not null })
        {
            errors.Add("/preparation", "A preparation without read; it is of the crystals that were melted, so send the range too or leave it out.");
        }
    }
}
