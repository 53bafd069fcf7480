namespace Derivid.Validation.Experiments;

/// <summary>Who ranks.</summary>
public enum Method
{
    /// <summary>The service's engine.</summary>
    Engine,

    /// <summary>An observer who knows the generating model.</summary>
    Ideal,

    /// <summary>Nearest listed temperatures.</summary>
    Nearest,

    /// <summary>±5 °C window, sorted by distance.</summary>
    Window,

    /// <summary>Window and spot tests by hand rules.</summary>
    WindowAndTests,
}
