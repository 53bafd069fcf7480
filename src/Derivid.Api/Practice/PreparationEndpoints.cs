using System.Text.Json;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Practice;
using Derivid.Core.Structures;

namespace Derivid.Api.Practice;

/// <summary>How a derivative is made.</summary>
public static class PreparationEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="api">The group of the interface.</param>
    /// <remarks>What is asked about is named, or unknown and stays so: nothing is identified, so it is open like the table.</remarks>
    public static void MapPreparations(this RouteGroupBuilder api) =>
        api.MapPost("/preparations", PrepareAsync)
            .WithTags("Practice")
            .WithName("prepareDerivative")
            .WithSummary("Work out a preparation")
            .WithDescription(
                "Amounts, theoretical and percentage yield, published recipes for so many tests and derivatives, what to do and what a "
                + "failure looks like, waste and cautions, for a parent or for an unknown by a span of molar mass. What no source says "
                + "is missing and named in unsourced. An unsafe scale is refused with the reason. Local rules come first. Stores nothing.")
            .WithBody<PreparationRequest>()
            .Produces<PreparationSheet>()
            .ProducesProblems(ProblemTypes.PreparationRefused);

    private static async Task<IResult> PrepareAsync(HttpContext context, TableSnapshots tables)
    {
        if (!(await JsonBody.ReadAsync<PreparationRequest>(context.Request)).Succeeded(out var request, out var problem)
            || !(await tables.FindAsync(request.TableVersion, context.RequestAborted)).Succeeded(out var table, out problem))
        {
            return problem;
        }

        if (!OrderOf(request, table).Succeeded(out var order, out problem))
        {
            return problem with { TableVersion = table.Table.Version };
        }

        var errors = new FieldErrors();
        foreach (var refusal in order.Refusals())
        {
            errors.Add("/" + JsonNamingPolicy.CamelCase.ConvertName(refusal.Field), refusal.Sentence, ProblemTypes.PreparationRefused);
        }

        return errors.ToProblem() is { } refused
            ? refused with { TableVersion = table.Table.Version }
            : Reply.Json(PreparationSheet.Of(order, table.Table));
    }

    /// <summary>Finds what a request names, every fault told at once.</summary>
    private static Outcome<PreparationOrder> OrderOf(PreparationRequest request, ServedTable table)
    {
        var errors = new FieldErrors();
        var kind = table.Kinds.Find(request.Kind) is { } kindKey ? table.Table.Kinds.First(k => k.Key == kindKey) : null;
        if (kind is null)
        {
            errors.Add("/kind", table.Kinds.Unknown(request.Kind));
        }

        var parent = request.Parent is { } name && table.Parents.Find(name) is { } key ? table.ParentByKey[key] : null;
        if (request.Parent is not null && parent is null)
        {
            errors.Add("/parent", table.Parents.Unknown(request.Parent));
        }

        AddContradictions(request, errors);
        var forms = kind is null ? [] : PracticeSubstance.FormsOf(kind.Key).ToList();
        var form = forms.Find(f => f.Key == request.ReagentForm);
        if (kind is not null && request.ReagentForm is { } called && form is null)
        {
            errors.Add("/reagentForm", $"{Text.Quoted(called)} is no form of {kind.ReagentName}. Allowed: {string.Join(", ", forms.Select(f => f.Key))}.");
        }

        if (errors.ToProblem() is { } problem)
        {
            return problem;
        }

        return new PreparationOrder
        {
            Kind = kind!,
            Parent = parent,
            MolarMass = parent is null
                ? new AmountSpan(request.MolarMass!.Lowest, request.MolarMass.Highest)
                : AmountSpan.Known(MolecularFormula.Parse(parent.Formula).MolarMass),
            Milligrams = request.Milligrams,
            GramsPerMillilitre = request.GramsPerMillilitre,
            CarbonylsCondensed = request.CarbonylsCondensed ?? table.Table.Derivatives
                .Where(d => d.ParentKey == parent?.Key && d.KindKey == kind!.Key)
                .Select(d => d.CarbonylsCondensed)
                .DefaultIfEmpty(1)
                .Min(),
            ReagentExcess = request.ReagentExcess ?? PreparationScale.UsualExcess,
            ReagentMilligrams = request.ReagentMilligrams,
            ReagentForm = form,
            ProductMilligrams = request.ProductMilligrams,
            Portions = request.Portions ?? 1,
        };
    }

    private static void AddContradictions(PreparationRequest request, FieldErrors errors)
    {
        if ((request.Parent is null) == (request.MolarMass is null))
        {
            errors.Add(
                request.Parent is null ? "/parent" : "/molarMass",
                request.Parent is null ? "Neither parent nor molarMass is given; give one of them." : "Both parent and molarMass are given; give one of them.");
        }

        if (request.MolarMass is { } span && span.Highest < span.Lowest)
        {
            errors.Add("/molarMass/highest", FormattableString.Invariant($"{span.Highest} lies below the lower end, {span.Lowest}; write the lower figure first."));
        }

        if (request is { ReagentExcess: not null, ReagentMilligrams: not null })
        {
            errors.Add("/reagentExcess", "The reagent is weighed already, so its excess follows; leave one of reagentExcess and reagentMilligrams out.");
        }

        if (request is { ReagentForm: not null, ReagentMilligrams: null })
        {
            errors.Add("/reagentForm", "A form without reagentMilligrams; say what was weighed, or leave it out: all forms are answered.");
        }
    }
}
