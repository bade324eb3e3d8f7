## Needs the review of a native speaker.

-breaker = interruptor del panel (breaker)
-gas-out = Salga ya, con todos. No encienda ni apague nada. Adentro no use el control del garaje, ni el carro, ni el teléfono. Llame desde afuera a la compañía de gas o al 911.
