namespace Derivid.Api.Identifications;

/// <summary>Sets up what identifying needs besides the table.</summary>
public static class IdentificationHosting
{
    /// <summary>Adds the turns of batches, and the deletion of what is past its time.</summary>
    /// <param name="builder">The application's builder.</param>
    /// <exception cref="InvalidOperationException">A setting is out of bounds.</exception>
    public static void AddIdentifications(this WebApplicationBuilder builder)
    {
        ArgumentNullException.ThrowIfNull(builder);
        builder.Services.AddSingleton<BatchTurns>();
        var retention = Retention.Read(builder.Configuration);
        builder.Services.AddSingleton(retention);
        if (retention.KeepDays > 0)
        {
            builder.Services.AddHostedService<RetentionSweep>();
        }
    }
}
