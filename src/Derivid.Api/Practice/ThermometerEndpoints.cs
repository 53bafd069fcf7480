using Derivid.Api.Access;
using Derivid.Api.Http;
using Derivid.Api.Table;
using Derivid.Contracts;
using Derivid.Core.Melting;
using Derivid.Core.Teaching;
using Derivid.Store.Databases;
using Derivid.Store.Practice;

namespace Derivid.Api.Practice;

/// <summary>Thermometers that are registered, and what standards read on them.</summary>
public static class ThermometerEndpoints
{
    /// <summary>Maps them.</summary>
    /// <param name="api">The group of the interface.</param>
    public static void MapThermometers(this RouteGroupBuilder api)
    {
        var thermometers = api.MapGroup("/thermometers").WithTags("Thermometers").RequireRole(Role.Student)
            .ProducesProblems(ProblemTypes.StorageUnavailable);
        thermometers.MapPost("", RegisterAsync)
            .WithIdempotencyKey()
            .WithName("registerThermometer")
            .WithSummary("Register a thermometer")
            .WithDescription(
                "So that observations can name it by its id. Until standards are melted with it nothing is known of it. The thermometers of a "
                + "course's staff are listed for its students.")
            .WithBody<ThermometerRequest>()
            .Produces<ThermometerItem>(StatusCodes.Status201Created);
        thermometers.MapGet("", ListAsync)
            .WithName("listThermometers")
            .WithSummary("List the thermometers at your bench")
            .WithDescription("Those that you registered, and those of the staff of courses that you are in or teach. In order of their ids.")
            .WithQuery<PageQuery>()
            .Produces<RowPage<ThermometerLink>>();
        thermometers.MapGet("/{id}", GetAsync)
            .WithName("getThermometer")
            .WithSummary("Get a thermometer")
            .WithDescription(
                "With its calibrations, the correction over its scale with its error, which grows away from the standards and with their age, and "
                + "what is to be looked to. Whoever knows its id may see it.")
            .Produces<ThermometerItem>()
            .ProducesProblems(ProblemTypes.NotFound);
        thermometers.MapPost("/{id}/calibrations", CalibrateAsync)
            .WithIdempotencyKey()
            .WithName("calibrateThermometer")
            .WithSummary("Tell what standards read on a thermometer")
            .WithDescription(
                "The clear points as read, before any correction. Of all that are told, those melted last are its calibration; the others are kept. "
                + "By whoever registered it, graders and whoever may more.")
            .WithBody<CalibrationRequest>()
            .Produces<ThermometerItem>(StatusCodes.Status201Created)
            .ProducesProblems(ProblemTypes.NotFound, ProblemTypes.ContradictoryReadings, ProblemTypes.ThermometerImplausible);
    }

    /// <param name="context">The request.</param>
    /// <param name="thermometers">Where they are kept.</param>
    /// <param name="registered">Puts them on the wire.</param>
    /// <param name="tables">The versions of the table.</param>
    /// <param name="ids">Makes its id.</param>
    /// <param name="time">The clock.</param>
    private static async Task<IResult> RegisterAsync(
        HttpContext context, Thermometers thermometers, RegisteredThermometers registered, TableSnapshots tables, ResourceIds ids, TimeProvider time)
    {
        if (!(await WriteRequest.ReadAsync<ThermometerRequest>(context)).Succeeded(out var write, out var problem)
            || !(await tables.FindAsync(null, context.RequestAborted)).Succeeded(out var table, out problem))
        {
            return problem;
        }

        if (await thermometers.MadeByAsync(write.Key, context.RequestAborted) is { } before)
        {
            return await MadeAsync(context, before, isNew: false, registered, table);
        }

        var name = write.Body.Name.Trim();
        if (name.Length == 0 || Text.HasControlCharacter(name))
        {
            return FieldErrors.One("/name", "Is no name; one line of text is allowed, what is written on the thermometer for instance.");
        }

        var created = await thermometers.AddAsync(
            new Thermometer(ids.New(), name, write.Body.Liquid, write.Origin.Actor, time.GetUtcNow().UtcDateTime),
            write.Key,
            write.Origin,
            context.RequestAborted);
        return await MadeAsync(context, created.Value, created.IsNew, registered, table);
    }

    private static Task<IResult> ListAsync(HttpContext context, Thermometers thermometers) =>
        Pager.ListAsync<PageQuery, Thermometer, ThermometerLink>(
            context,
            (_, beyond, most) => thermometers.ListAsync(Caller.Of(context)!.Actor, beyond, most, context.RequestAborted),
            thermometer => thermometer.Id,
            ResourceIds.IsWellFormed,
            thermometer => new ThermometerLink(thermometer.Id, thermometer.Name, thermometer.Liquid, thermometer.Owner));

    /// <param name="id">The thermometer.</param>
    /// <param name="context">The request.</param>
    /// <param name="thermometers">Where they are kept.</param>
    /// <param name="registered">Puts them on the wire.</param>
    /// <param name="tables">The versions of the table.</param>
    private static async Task<IResult> GetAsync(
        string id, HttpContext context, Thermometers thermometers, RegisteredThermometers registered, TableSnapshots tables)
    {
        if (!(await FindAsync(id, thermometers, context.RequestAborted)).Succeeded(out var thermometer, out var problem)
            || !(await tables.FindAsync(null, context.RequestAborted)).Succeeded(out var table, out problem))
        {
            return problem;
        }

        return Reply.Json(await registered.ItemOfAsync(thermometer, table, context.RequestAborted));
    }

    /// <param name="id">The thermometer.</param>
    /// <param name="context">The request.</param>
    /// <param name="thermometers">Where they are kept.</param>
    /// <param name="registered">Puts them on the wire.</param>
    /// <param name="tables">The versions of the table.</param>
    /// <param name="ids">Makes the calibration's id.</param>
    /// <param name="time">The clock.</param>
    private static async Task<IResult> CalibrateAsync(
        string id,
        HttpContext context,
        Thermometers thermometers,
        RegisteredThermometers registered,
        TableSnapshots tables,
        ResourceIds ids,
        TimeProvider time)
    {
        if (!(await FindAsync(id, thermometers, context.RequestAborted)).Succeeded(out var thermometer, out var problem)
            || !(await WriteRequest.ReadAsync<CalibrationRequest>(context)).Succeeded(out var write, out problem)
            || !(await tables.FindAsync(null, context.RequestAborted)).Succeeded(out var table, out problem))
        {
            return problem;
        }

        if (await thermometers.CalibratedByAsync(write.Key, context.RequestAborted) is not null)
        {
            return await MadeAsync(context, thermometer, isNew: false, registered, table);
        }

        var caller = Caller.Of(context)!;
        if (caller.Actor != thermometer.Owner && caller.Role < Role.Grader)
        {
            return new Problem(
                ProblemTypes.ScopeMissing,
                "It was registered by somebody else, so they tell what it reads, or a grader; register one of your own, or give your readings in the observation.");
        }

        var now = time.GetUtcNow();
        var errors = new FieldErrors();
        var readings = ReadingsOf(write.Body.Standards, table, errors);
        var meltedAt = write.Body.MeltedAt ?? now;
        if (meltedAt > now)
        {
            errors.Add("/meltedAt", "Is still to come; standards are read before they are told.");
        }

        if ((errors.ToProblem() ?? Implausible(readings, table)) is { } wrong)
        {
            return wrong with { TableVersion = table.Table.Version };
        }

        var created = await thermometers.CalibrateAsync(
            new Calibration(ids.New(), id, RegisteredThermometers.Kept(readings), write.Origin.Actor, meltedAt.UtcDateTime, now.UtcDateTime),
            write.Key,
            write.Origin,
            context.RequestAborted);
        return await MadeAsync(context, thermometer, created.IsNew, registered, table);
    }

    private static async Task<IResult> MadeAsync(
        HttpContext context, Thermometer thermometer, bool isNew, RegisteredThermometers registered, ServedTable table)
    {
        WriteRequest.Made(context, $"/api/v1/thermometers/{thermometer.Id}", isNew);
        return Reply.Json(await registered.ItemOfAsync(thermometer, table, context.RequestAborted));
    }

    private static async Task<Outcome<Thermometer>> FindAsync(string id, Thermometers thermometers, CancellationToken cancellationToken) =>
        ResourceIds.IsWellFormed(id) && await thermometers.FindAsync(id, cancellationToken) is { } thermometer
            ? thermometer
            : new Problem(ProblemTypes.NotFound, $"No thermometer {Text.Quoted(id)} is registered here.");

    private static List<StandardMelted> ReadingsOf(IReadOnlyList<StandardMelted> standards, ServedTable table, FieldErrors errors)
    {
        var readings = new List<StandardMelted>();
        foreach (var (index, sent) in standards.Index())
        {
            var place = JsonPointer.Item("/standards", index) + "/standard";
            if (table.Standards.Find(sent.Standard) is not { } key)
            {
                errors.Add(place, table.Standards.Unknown(sent.Standard));
            }
            else if (readings.Exists(read => read.Standard == key))
            {
                errors.Add(place, $"The standard {key} is given twice. Melt it again and send one reading.", ProblemTypes.ContradictoryReadings);
            }
            else
            {
                readings.Add(sent with { Standard = key });
            }
        }

        return [.. readings.OrderBy(read => table.StandardByKey[read.Standard])];
    }

    private static Problem? Implausible(List<StandardMelted> readings, ServedTable table)
    {
        try
        {
            _ = RegisteredThermometers.CorrectionOf(readings, 0, table);
            return null;
        }
        catch (ImplausibleThermometerException fault)
        {
            var errors = new FieldErrors();
            errors.Add("/standards", fault.Message, ProblemTypes.ThermometerImplausible);
            return errors.ToProblem();
        }
    }
}
