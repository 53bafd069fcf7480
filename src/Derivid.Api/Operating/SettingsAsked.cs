namespace Derivid.Api.Operating;

/// <summary>Takes down which settings the service asks for, so that nobody keeps a list of them by hand.</summary>
/// <remarks>Holds no value itself. What a framework binds by itself, such as logging, is asked for by section and not taken down.</remarks>
public sealed class SettingsAsked : ConfigurationProvider, IConfigurationSource
{
    private readonly HashSet<string> _keys = new(StringComparer.OrdinalIgnoreCase);

    /// <summary>Whether a setting was asked for.</summary>
    /// <param name="key">Its name, sections parted by colons; case doesn't count.</param>
    public bool Contains(string key)
    {
        lock (_keys)
        {
            return _keys.Contains(key);
        }
    }

    /// <inheritdoc/>
    public override bool TryGet(string key, out string? value)
    {
        lock (_keys)
        {
            _keys.Add(key);
        }

        value = null;
        return false;
    }

    /// <inheritdoc/>
    public IConfigurationProvider Build(IConfigurationBuilder builder) => this;
}
