using Derivid.Store.Auditing;
using Derivid.Store.Databases;
using Derivid.Store.Idempotency;
using Microsoft.EntityFrameworkCore;

namespace Derivid.Store.Practice;

/// <summary>Keeps registered thermometers and their calibrations.</summary>
/// <param name="database">Where they are kept.</param>
/// <param name="writes">Makes each request that carries a key count once.</param>
public sealed class Thermometers(DerividDatabase database, IdempotentWrites writes)
{
    /// <summary>Keeps a new one.</summary>
    /// <param name="thermometer">The thermometer.</param>
    /// <param name="key">Makes the request count once. Missing: null.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <exception cref="IdempotencyKeyReusedException">The key stands for another request.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public Task<Created<Thermometer>> AddAsync(
        Thermometer thermometer, IdempotencyKey? key, AuditOrigin origin, CancellationToken cancellation) => writes.RunAsync(
        key,
        origin,
        (context, _) =>
        {
            context.Thermometers.Add(thermometer);
            return Task.FromResult(new Creation<Thermometer>(
                thermometer, thermometer.Id, new AuditedAct("thermometer.register", Resource(thermometer.Id))));
        },
        ThermometerAsync,
        cancellation);

    /// <summary>Finds what an earlier request of the same key registered.</summary>
    /// <inheritdoc cref="IdempotentWrites.FindAsync"/>
    public Task<Thermometer?> MadeByAsync(IdempotencyKey? key, CancellationToken cancellation) =>
        writes.FindAsync(key, ThermometerAsync, cancellation);

    /// <summary>Keeps a calibration.</summary>
    /// <param name="calibration">The calibration.</param>
    /// <param name="key">Makes the request count once. Missing: null.</param>
    /// <param name="origin">Who asks for it, and why.</param>
    /// <param name="cancellation">Gives up early, changing nothing.</param>
    /// <exception cref="IdempotencyKeyReusedException">The key stands for another request.</exception>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now; nothing was changed.</exception>
    public Task<Created<Calibration>> CalibrateAsync(
        Calibration calibration, IdempotencyKey? key, AuditOrigin origin, CancellationToken cancellation) => writes.RunAsync(
        key,
        origin,
        (context, _) =>
        {
            context.Calibrations.Add(calibration);
            return Task.FromResult(new Creation<Calibration>(
                calibration, calibration.Id, new AuditedAct("thermometer.calibrate", Resource(calibration.ThermometerId))));
        },
        CalibrationAsync,
        cancellation);

    /// <summary>Finds the calibration that an earlier request of the same key made.</summary>
    /// <inheritdoc cref="IdempotentWrites.FindAsync"/>
    public Task<Calibration?> CalibratedByAsync(IdempotencyKey? key, CancellationToken cancellation) =>
        writes.FindAsync(key, CalibrationAsync, cancellation);

    /// <summary>Finds one.</summary>
    /// <param name="id">Its id.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Missing: null, no such thermometer.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<Thermometer?> FindAsync(string id, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.Thermometers.AsNoTracking().FirstOrDefaultAsync(row => row.Id == id, token),
        cancellation);

    /// <summary>The calibrations of one.</summary>
    /// <param name="id">The thermometer.</param>
    /// <param name="most">How many at most.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <returns>Shape: the latest melted first.</returns>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<List<Calibration>> CalibrationsAsync(string id, int most, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.Calibrations.AsNoTracking().Where(row => row.ThermometerId == id)
            .OrderByDescending(row => row.MeltedAtUtc).ThenByDescending(row => row.Id).Take(most).ToListAsync(token),
        cancellation);

    /// <summary>Lists those at a caller's bench, oldest first: their own, and those of the staff of courses they are in or teach.</summary>
    /// <param name="actor">The caller, as the audit log names them.</param>
    /// <param name="beyond">The id to go on after. Missing: null, from the start.</param>
    /// <param name="most">How many at most.</param>
    /// <param name="cancellation">Gives up early.</param>
    /// <exception cref="DatabaseUnavailableException">The database can't be used just now.</exception>
    public Task<List<Thermometer>> ListAsync(string actor, string? beyond, int most, CancellationToken cancellation) => database.RunAsync(
        (context, token) => context.Thermometers.AsNoTracking()
            .Where(row => row.Owner == actor || context.CourseStaff.Any(staff => staff.Actor == row.Owner && staff.IsServing
                && (context.CourseStudents.Any(student => student.CourseId == staff.CourseId && student.Actor == actor && student.IsEnrolled)
                    || context.CourseStaff.Any(other => other.CourseId == staff.CourseId && other.Actor == actor && other.IsServing))))
            .OldestFirst(beyond, most).ToListAsync(token),
        cancellation);

    private static Task<Thermometer> ThermometerAsync(DerividContext context, string id, CancellationToken cancellation) =>
        context.Thermometers.AsNoTracking().FirstAsync(row => row.Id == id, cancellation);

    private static Task<Calibration> CalibrationAsync(DerividContext context, string id, CancellationToken cancellation) =>
        context.Calibrations.AsNoTracking().FirstAsync(row => row.Id == id, cancellation);

    private static string Resource(string id) => "thermometers/" + id;
}
