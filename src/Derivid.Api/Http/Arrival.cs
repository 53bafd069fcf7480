namespace Derivid.Api.Http;

/// <summary>When a request was here to its last byte, however long the service then takes to come to it.</summary>
/// <remarks>
/// The moment it began where its body was here with it and it waited for nothing of its sender's own; else the moment its body was
/// read to the end. A hand-in just before the hour isn't lost to a service that is busy with others.
/// </remarks>
public sealed class Arrival
{
    private readonly TimeProvider _time;

    private Arrival(TimeProvider time) => (_time, AtUtc) = (time, time.GetUtcNow().UtcDateTime);

    /// <summary>When. Units: UTC.</summary>
    public DateTime AtUtc { get; private set; }

    /// <summary>Notes when requests begin; to be used before anything that waits.</summary>
    /// <param name="app">The application.</param>
    public static void Use(WebApplication app)
    {
        ArgumentNullException.ThrowIfNull(app);
        var time = app.Services.GetRequiredService<TimeProvider>();
        app.Use((context, next) =>
        {
            context.Features.Set(new Arrival(time));
            return next(context);
        });
    }

    /// <summary>The arrival of a request.</summary>
    /// <param name="context">The request.</param>
    public static Arrival Of(HttpContext context)
    {
        ArgumentNullException.ThrowIfNull(context);
        return context.Features.Get<Arrival>() ?? new Arrival(context.RequestServices.GetRequiredService<TimeProvider>());
    }

    /// <summary>Says that its sender, or what they have under way besides, kept it waiting until now.</summary>
    public void Waited() => AtUtc = _time.GetUtcNow().UtcDateTime;
}
